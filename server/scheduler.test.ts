import assert from "node:assert/strict";
import type { Task } from "../core/base/task.ts";
import { createScheduler, SLICE_MS } from "./scheduler.ts";

/** A clock that moves 1 ms with every look, and pauses that count. */
function fakeBeat() {
  let now = 0;
  let pauses = 0;
  return {
    beat: { now: () => (now += 1), pause: async () => void (pauses += 1) },
    pauses: () => pauses,
  };
}

function* steps(count: number, log: string[], name: string): Task<string> {
  for (let idx = 0; idx < count; idx += 1) {
    log.push(name);
    yield;
  }
  return name;
}

const always = () => true;

describe("the scheduler", () => {
  it("lets messages in between slices", async () => {
    const { beat, pauses } = fakeBeat();
    const outcome = await createScheduler(beat).run(steps(80, [], "a"), "asked", always);
    assert.deepEqual(outcome, { state: "done", value: "a" });
    assert.ok(pauses() >= 80 / SLICE_MS, `${pauses()} pauses`);
  });

  it("runs what is shown before what is in the background", async () => {
    const log: string[] = [];
    const scheduler = createScheduler(fakeBeat().beat);
    const back = scheduler.run(steps(30, log, "back"), "background", always);
    const shown = scheduler.run(steps(30, log, "shown"), "shown", always);
    await Promise.all([back, shown]);
    assert.ok(log.lastIndexOf("shown") < log.indexOf("back"), log.join(" "));
  });

  it("drops what is no longer wanted, without running it on", async () => {
    const log: string[] = [];
    let version = 1;
    const scheduler = createScheduler({
      now: (() => {
        let now = 0;
        return () => (now += 1);
      })(),
      pause: async () => void (log.length > 0 && (version = 2)),
    });
    const outcome = await scheduler.run(steps(1000, log, "old"), "shown", () => version === 1);
    assert.deepEqual(outcome, { state: "dropped" });
    assert.ok(log.length <= SLICE_MS + 1, `${log.length} steps`);
  });

  it("gives what a task throws as its outcome and goes on with the next", async () => {
    const scheduler = createScheduler(fakeBeat().beat);
    // eslint-disable-next-line require-yield -- A task that fails before its first yield.
    const failing = (function* (): Task<string> {
      throw new RangeError("broken");
    })();
    const [failed, fine] = await Promise.all([
      scheduler.run(failing, "shown", always),
      scheduler.run(steps(3, [], "b"), "shown", always),
    ]);
    assert.equal(failed.state, "failed");
    assert.ok(failed.state === "failed" && failed.error instanceof RangeError);
    assert.deepEqual(fine, { state: "done", value: "b" });
  });
});
