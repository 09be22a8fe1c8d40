import assert from "node:assert/strict";
import { progressOn } from "./progress.ts";

describe("progress of long work", () => {
  /** What is written when `all` documents take `each` ms apiece. */
  function told(isTTY: boolean, env: NodeJS.ProcessEnv, all: number, each: number): string[] {
    const written: string[] = [];
    let time = 5000;
    const stream = { isTTY, write: (text: string) => written.push(text) };
    const { onProgress, end } = progressOn(stream, env, "documents checked", () => time);
    for (let done = 1; done <= all; done++) {
      time += each;
      onProgress(done, all);
    }
    end();
    return written;
  }

  it("is one line on a terminal, written again, that is gone at the end", () => {
    const written = told(true, { TERM: "xterm" }, 100, 50);
    assert.equal(written[0], "\rmovewright: 10 of 100 documents checked\u001b[K");
    assert.equal(written[20], "\rmovewright: 50 of 100 documents checked, about 3 s left\u001b[K");
    assert.equal(written.at(-1), "\r\u001b[K");
    // At most ten a second.
    assert.ok(written.length <= 52, `${written.length}`);
  });

  it("says nothing of what is soon over", () => {
    assert.deepEqual(told(true, {}, 9, 50), []);
    assert.deepEqual(told(false, { CI: "true" }, 100, 50), []);
  });

  it("is a line each ten seconds in the log of a build and on a terminal that can't write again, without signs of a terminal", () => {
    for (const [isTTY, env] of [
      [false, { CI: "true" }],
      [true, { TERM: "dumb" }],
    ] as const) {
      assert.deepEqual(told(isTTY, env, 1000, 250), told(false, { CI: "1" }, 1000, 250));
    }
    const written = told(false, { CI: "true" }, 1000, 250);
    assert.equal(written[0], "movewright: 40 of 1000 documents checked\n");
    assert.equal(written[1], "movewright: 80 of 1000 documents checked, about 4 min left\n");
    assert.equal(written.length, 24);
  });

  it("is nothing where the notes are read by a program", () => {
    assert.deepEqual(told(false, {}, 1000, 250), []);
    assert.deepEqual(told(false, { CI: "false" }, 1000, 250), []);
  });
});
