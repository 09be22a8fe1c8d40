import assert from "node:assert/strict";
import fc from "fast-check";
import { textShift } from "./text-shift.ts";

describe("places between two versions of a text", () => {
  it("are kept before and after the stretch that differs", () => {
    const { toOlder, toNewer } = textShift("one two three", "one 2 three");
    assert.deepEqual([0, 4, 6, 11].map(toOlder), [0, 4, 8, 13]);
    assert.deepEqual([0, 4, 8, 13].map(toNewer), [0, 4, 6, 11]);
  });

  it("lead back to where they came from outside of it, and stay in the text", () => {
    const part = fc.string({ maxLength: 20 });
    fc.assert(
      fc.property(part, part, part, part, (head, mine, yours, tail) => {
        const [older, newer] = [head + mine + tail, head + yours + tail];
        const { toOlder, toNewer } = textShift(older, newer);
        for (let offset = 0; offset <= newer.length; offset += 1) {
          assert.ok(0 <= toOlder(offset) && toOlder(offset) <= older.length);
        }
        for (let offset = 0; offset <= head.length; offset += 1) assert.equal(toNewer(toOlder(offset)), offset);
        assert.equal(toOlder(newer.length), newer === older || tail !== "" ? older.length : toOlder(newer.length));
      }),
      { seed: 21, numRuns: 500 },
    );
  });
});
