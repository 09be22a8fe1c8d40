import assert from "node:assert/strict";
import fc from "fast-check";
import { changedLines } from "./changed-lines.ts";

describe("changed lines", () => {
  it("are those of the text after that are not in the text before, and where lines are gone", () => {
    assert.deepEqual(changedLines("a\nb\nc\n", "a\nB\nc\n"), [{ start: 1, end: 2 }]);
    assert.deepEqual(changedLines("a\nb\nc\n", "a\nc\n"), [{ start: 1, end: 1 }]);
    assert.deepEqual(changedLines("a\nc\n", "a\nb\nc\n"), [{ start: 1, end: 2 }]);
    assert.deepEqual(changedLines("a\nb\nc\nd\n", "A\nb\nc\nD\n"), [
      { start: 0, end: 1 },
      { start: 3, end: 4 },
    ]);
    assert.deepEqual(changedLines("", "a\nb"), [{ start: 0, end: 2 }]);
  });

  it("are none for the same lines, whatever ends them", () => {
    assert.deepEqual(changedLines("a\r\nb\r\n", "a\nb\n"), []);
  });

  it("leave as many lines alone as the longest common sequence has", () => {
    const lines = fc.array(fc.constantFrom("a", "b", "c", "d"), { maxLength: 12 });
    fc.assert(
      fc.property(lines, lines, (older, newer) => {
        const ranges = changedLines(older.join("\n"), newer.join("\n"));
        const changed = ranges.reduce((sum, { start, end }) => sum + end - start, 0);
        // A text without a letter still has one line.
        const [was, is] = [older, newer].map((all) => (all.length === 0 ? [""] : all));
        assert.equal(is.length - changed, common(was, is));
        for (const [i, { start, end }] of ranges.entries())
          assert.ok(start <= end && (i === 0 || ranges[i - 1].end < start));
      }),
      { seed: 7 },
    );
  });
});

/** Length of a longest common sequence, from its definition. */
function common(a: readonly string[], b: readonly string[]): number {
  let row = Array<number>(b.length + 1).fill(0);
  for (const one of a) {
    const next = [0];
    for (const [j, other] of b.entries()) next.push(one === other ? row[j] + 1 : Math.max(row[j + 1], next[j]));
    row = next;
  }
  return row[b.length];
}
