import assert from "node:assert/strict";
import { countEnds, WINDOW_MS } from "./server-ends.ts";

describe("a server that ends", () => {
  it("is started again with one word about it, and after the fifth end in three minutes only when asked", () => {
    let time = 0;
    const ended = countEnds(() => time);
    const ends = Array.from({ length: 6 }, () => {
      time += 20_000;
      return ended();
    });
    assert.deepEqual(ends, ["restart and tell", "restart", "restart", "restart", "ask", "ask"]);
  });

  it("now and then is started again without another word", () => {
    let time = 0;
    const ended = countEnds(() => time);
    assert.equal(ended(), "restart and tell");
    for (let end = 0; end < 20; end++) {
      time += WINDOW_MS / 3;
      assert.equal(ended(), "restart");
    }
  });
});
