import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout } from "node:timers/promises";
import { CAMERA, moveText, RIG, SET } from "../bench/documents.ts";
import { shippedProgram, type Answer } from "../test/support/shipped-program.ts";
import { mergeResults } from "./checking/merge-results.ts";
import { checkDocuments } from "./checking/check-documents.ts";
import { findDocuments } from "./documents.ts";
import { Failure } from "./failure.ts";

const MOVES = 30;

describe("movewright check of a whole workspace", function () {
  this.timeout(120_000);
  const { main, folder, put, run } = shippedProgram("workspace");
  before(() => {
    put("job/movewright.config.yaml", "config: 1\n");
    put("job/seven.rig.yaml", RIG.replace("speed: 60", "speed: 3"));
    put("job/a.camera.yaml", CAMERA);
    put("job/a.set.yaml", SET);
    for (let i = 0; i < MOVES; i++) put(`job/day ${i % 3}/'${i}'.move.yaml`, ofFolderAbove(moveText(4, i)));
    put("job/day 1/broken.move.yaml", "move: 1\nkeys: [");
  });
  const ofFolderAbove = (text: string): string => text.replace(/\b(seven\.rig|a\.camera|a\.set)/g, "../$1");
  const check = (...args: string[]): Answer => run("check", "job", ...args);
  /** Without when it was. */
  const untimed = (text: string): string => text.replace(/timestamp="[^"]*"/g, "");

  it("finds the same with any number of threads", async () => {
    const documents = findDocuments([join(folder(), "job")]);
    const results = [];
    for (const workers of [1, 3]) {
      results.push(await checkDocuments(documents, { workers, script: main, patience: 0 }));
    }
    assert.equal(results[0].length, MOVES + 5);
    assert.ok(results[0].some(({ findings }) => findings.some(({ code }) => code === "axis-speed")));
    assert.deepEqual(results[1], results[0]);
    const [one, four] = ["1", "4"].map((jobs) => check("--no-cache", "--jobs", jobs, "--format", "json"));
    assert.equal(four.stdout, one.stdout);
    assert.deepEqual([one.status, four.status, one.stderr, four.stderr], [1, 1, "", ""]);
  });

  it("answers from the cache what it answers without, and says why a folder can't be one", () => {
    const cold = check("--no-cache", "--format", "sarif");
    for (const _ of [1, 2]) assert.equal(check("--cache", "kept", "--format", "sarif").stdout, cold.stdout);
    assert.ok(existsSync(join(folder(), "kept", "results-1", "CACHEDIR.TAG")));
    const refused = check("--cache", "good.move.yaml");
    assert.deepEqual(
      [refused.status, refused.stdout, refused.stderr],
      [
        2,
        "",
        "movewright: --cache good.move.yaml can't hold a cache: it is no folder; name another folder, or leave it with --no-cache\n",
      ],
    );
  });

  it("is split between machines and put together as one run would have answered, in every format", () => {
    const counts: number[] = [];
    for (const [i, number] of [2, 1, 3].entries()) {
      const shard = check("--shard", `${number}/3`, "--result", `part ${number}.json`, "--format", "json");
      const { files } = JSON.parse(shard.stdout) as { files: unknown[] };
      counts[i] = files.length;
      assert.equal(
        shard.stderr,
        `movewright: shard ${number}/3: ${files.length} of ${MOVES + 5} documents are checked here, ${MOVES + 5 - files.length} are left to other shards\n`,
      );
    }
    assert.ok(Math.max(...counts) - Math.min(...counts) <= 1, counts.join());
    assert.equal(counts.reduce((a, b) => a + b), MOVES + 5); // prettier-ignore
    const formats = ["json", "sarif", "junit", "github", "markdown"];
    const outs = (name: string): string[] => formats.flatMap((format) => ["--out", `${format}=${name}.${format}`]);
    const whole = check(...outs("whole"));
    const merged = run("check", ...outs("merged"), "--merge", "part 3.json", "part 1.json", "part 2.json");
    assert.deepEqual([merged.status, merged.stdout, merged.stderr], [1, whole.stdout, ""]);
    const answer = (name: string, format: string): string => readFileSync(join(folder(), `${name}.${format}`), "utf8");
    for (const format of formats) {
      assert.equal(untimed(answer("merged", format)), untimed(answer("whole", format)), format);
    }
    // Another checkout of the same documents.
    const text = readFileSync(join(folder(), "part 1.json"), "utf8");
    assert.ok(!text.includes(folder()));
  });

  it("puts nothing together that is not all of one run", () => {
    const text = readFileSync(join(folder(), "part 2.json"), "utf8");
    put("cut.json", text.slice(0, -200));
    put("old.json", text.replace('"program":"', '"program":"0.0.9 '));
    put("other.json", text.replace(/"sum":"[0-9a-f]/, '"sum":"x'));
    put("five.json", text.replace('"of":3', '"of":5'));
    put("later.json", text.replace('"movewright-result":1', '"movewright-result":2'));
    put("changed.json", text.replace('"severity":"', '"severity":"<b>'));
    put("none.json", "{}\n");
    put("moved.json", text.replace(/"index":\d+/g, '"index":0'));
    const { program } = JSON.parse(text) as { program: string };
    const cases: [string[], RegExp][] = [
      [["part 1.json", "part 2.json"], /no result of shard 3\/3; give/],
      [["part 1.json"], /no result of shard 2\/3, 3\/3; give/],
      [["part 1.json", "part 2.json", "part 2.json", "part 3.json"], /are both shard 2\/3; give each shard once/],
      [["part 1.json", "old.json", "part 3.json"], /are of two programs \(.*, 0\.0\.9 .*\); use one version/],
      [
        ["part 1.json", "other.json", "part 3.json"],
        /of different documents \(35, 35\); run all shards on one revision/,
      ],
      [["part 1.json", "five.json", "part 3.json"], /split in 3 and in 5; use one count/],
      [["part 1.json", "later.json", "part 3.json"], /later\.json is a result of another version/],
      [["part 1.json", "changed.json", "part 3.json"], /changed\.json is a result that somebody changed/],
      [["part 1.json", "moved.json", "part 3.json"], /the results hold \d+ of 35 documents/],
      [["part 1.json", "cut.json", "part 3.json"], /cut\.json is no whole result of a check/],
      [["none.json"], /none\.json is no whole result/],
      [["gone.json"], /gone\.json is not there/],
    ];
    for (const [files, message] of cases) {
      const merge = (): unknown => mergeResults(files.map((file) => join(folder(), file)), program); // prettier-ignore
      assert.throws(merge, (error) => error instanceof Failure && message.test(error.message), files.join());
    }
    const paths = [1, 2, 3].map((number) => join(folder(), `part ${number}.json`));
    assert.throws(
      () => mergeResults(paths, "0.2.0"),
      /is of another program \(.*\) than this one \(0\.2\.0\); merge with/,
    );
    const refused = run("check", "--merge", "part 1.json");
    assert.deepEqual(
      [refused.status, refused.stdout, refused.stderr],
      [2, "", "movewright: no result of shard 2/3, 3/3; give the results of all shards\n"],
    );
    const others: [string[], RegExp][] = [
      [["job", "--shard", "4/3"], /--shard 4\/3: write NUMBER\/COUNT, such as 2\/3/],
      [["job", "--shard", "1/3", "--merge", "part 1.json"], /goes with no paths or --shard/],
      [["job", "--jobs", "0"], /whole number from 1 to 256/],
      [["job", "--result", "good.move.yaml"], /good\.move\.yaml is there and is not an older answer/],
    ];
    for (const [args, message] of others) {
      const answer = run("check", ...args);
      assert.equal(answer.status, 2, args.join(" "));
      assert.match(answer.stderr, message);
    }
  });

  it("is not harmed by a run that was killed", async () => {
    const cold = check("--no-cache", "--format", "json").stdout;
    const kept = join(folder(), "killed");
    const entries = (): string[] =>
      existsSync(kept) ? readdirSync(kept, { recursive: true }).map(String).filter((name) => name.endsWith(".json")) : []; // prettier-ignore
    for (const [most, jobs] of [
      [3, "1"],
      [12, "4"],
    ] as const) {
      rmSync(kept, { recursive: true, force: true });
      const killed = spawn(process.execPath, [main, "check", "job", "--cache", kept, "--jobs", jobs], {
        cwd: folder(),
      });
      const ended = new Promise((resolve) => killed.on("exit", (_code, signal) => resolve(signal)));
      for (let i = 0; i < 4000 && entries().length < most && killed.exitCode === null; i++) await setTimeout(5);
      killed.kill("SIGKILL");
      const signal = await ended;
      assert.ok(entries().length >= most, `${entries().length} entries`);
      if (entries().length < MOVES) assert.equal(signal, "SIGKILL");
      // What it was about to write when it was killed.
      const [part, name] = entries()[0].split("/").slice(-2);
      mkdirSync(join(kept, "results-1", part), { recursive: true });
      writeFileSync(join(kept, "results-1", part, `.${name}.0123456789ab`), "half");
      assert.equal(check("--cache", kept, "--format", "json").stdout, cold);
      assert.equal(check("--cache", kept, "--format", "json").stdout, cold);
    }
  });
});
