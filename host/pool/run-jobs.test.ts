import assert from "node:assert/strict";
import { rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { oddJob, type OddInput, type OddOutput } from "../../test/support/odd-jobs.ts";
import { runJobs, type RunOptions } from "./run-jobs.ts";
import { JobRefused } from "./thread-pool.ts";

const at = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));

describe("jobs in threads", function () {
  this.timeout(60_000);
  const script = at(`.cache/cli-test/odd-jobs-${process.pid}.cjs`);
  before(() =>
    build({
      entryPoints: [at("test/support/odd-jobs.ts")],
      outfile: script,
      bundle: true,
      platform: "node",
      format: "cjs",
      target: "node20",
    }),
  );
  after(() => rmSync(script, { force: true }));

  const run = (inputs: readonly OddInput[], options: RunOptions = {}): Promise<readonly OddOutput[]> =>
    runJobs("odd", oddJob, {}, inputs, { script, workers: 2, patience: 0, ...options });
  const said = async (inputs: readonly OddInput[], options?: RunOptions): Promise<readonly string[]> =>
    (await run(inputs, options)).map(({ said }) => said);
  const numbers = (count: number): { number: number }[] => Array.from({ length: count }, (_, number) => ({ number }));
  const squares = (count: number): string[] => numbers(count).map(({ number }) => String(number * number));

  it("gives outputs in the order of the inputs, whatever the number of threads, and tells how far it is", async () => {
    for (const workers of [1, 2, 4]) {
      const told: number[] = [];
      const onProgress = (done: number, all: number): void => {
        assert.equal(all, 200);
        told.push(done);
      };
      assert.deepEqual(await said(numbers(200), { workers, onProgress }), squares(200));
      assert.deepEqual(
        told,
        Array.from({ length: 200 }, (_, i) => i + 1),
      );
    }
    assert.deepEqual(await run([]), []);
  });

  it("hands a thread many inputs, so that what it keeps serves again", async () => {
    const before = (await run(numbers(200))).map((output) => output.before ?? 0);
    assert.ok(Math.max(...before) > 20, `${Math.max(...before)}`);
  });

  it("starts no thread for what this one does soon", async () => {
    // A script that is not there would be told as what could not be started; here nothing asks for it.
    const options = { patience: 10_000, script: "/nowhere/at-all.cjs" };
    const outputs = await run(numbers(40), options);
    assert.deepEqual(
      outputs.map(({ before }) => before),
      numbers(40).map(({ number }) => number),
    );
  });

  it("gives what the job says for an input on which it throws, and all others", async () => {
    const inputs: OddInput[] = [...numbers(5), { throws: "a wrong index" }, { sends: "function" }, ...numbers(5)];
    const answers = await said(inputs);
    assert.deepEqual([...answers.slice(0, 5), ...answers.slice(7)], [...squares(5), ...squares(5)]);
    assert.equal(answers[5], "failed: a wrong index");
    assert.match(answers[6], /^failed: .*could not be cloned/);
  });

  it("replaces a thread that ends or runs out of memory, and tells of its input alone", async () => {
    const inputs: OddInput[] = [...numbers(30), { exits: 3 }, ...numbers(30), { fills: true }, ...numbers(30)];
    const answers = await said(inputs, { heap: 32 });
    const good = [...answers.slice(0, 30), ...answers.slice(31, 61), ...answers.slice(62)];
    assert.deepEqual(good, [...squares(30), ...squares(30), ...squares(30)]);
    assert.equal(answers[30], "failed: its thread ended with code 3");
    assert.match(answers[61], /^failed: .*memory/);
  });

  it("does all in this thread where none can be started", async () => {
    assert.deepEqual(await said(numbers(20), { script: "/nowhere/at-all.cjs" }), squares(20));
  });

  it("says what opening the job says", async () => {
    await assert.rejects(runJobs("odd", oddJob, { opens: false }, numbers(3), { script }), /cannot be opened/);
  });

  it("ends the whole run where the job says so, in this thread and in others", async () => {
    const inputs: OddInput[] = [...numbers(30), { throws: "no more" }, ...numbers(30)];
    await assert.rejects(run(inputs, { workers: 1 }), /^Error: no more$/);
    await assert.rejects(run(inputs), (error) => error instanceof JobRefused && error.message === "no more");
  });

  it("ends soon when it is no longer wanted, in this thread and in others", async () => {
    for (const workers of [1, 2]) {
      const quit = new AbortController();
      const waits = Array.from({ length: 50 }, () => ({ waits: 100 }));
      const begun = performance.now();
      setTimeout(() => quit.abort(new Error("no longer wanted")), 300);
      await assert.rejects(run(waits, { workers, signal: quit.signal }), /no longer wanted/);
      assert.ok(performance.now() - begun < 2500, `${performance.now() - begun} ms`);
    }
    await assert.rejects(run(numbers(3), { signal: AbortSignal.abort(new Error("never")) }), /never/);
  });
});
