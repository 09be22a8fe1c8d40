import assert from "node:assert/strict";
import fc from "fast-check";
import { editDistance, nearestName } from "./nearest-name.ts";

/** The textbook table, without the cut-offs of the real one. */
function slowDistance(a: string, b: string): number {
  const d = Array.from({ length: a.length + 1 }, (_, i) =>
    Array.from({ length: b.length + 1 }, (_, j) => (i === 0 ? j : i)),
  );
  for (let i = 1; i <= a.length; i++) {
    for (let j = 1; j <= b.length; j++) {
      d[i][j] = Math.min(d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        d[i][j] = Math.min(d[i][j], d[i - 2][j - 2] + 1);
    }
  }
  return d[a.length][b.length];
}

describe("nearestName", () => {
  it("finds slips of a letter, other case and other joints, and leaves what is far", () => {
    const known = ["dolly", "swing", "lift", "close-focus", "pan"];
    assert.equal(nearestName("doly", known), "dolly");
    assert.equal(nearestName("siwng", known), "swing");
    assert.equal(nearestName("closeFocus", known), "close-focus");
    assert.equal(nearestName("PAN", known), "pan");
    assert.equal(nearestName("turntable", known), undefined);
    assert.equal(nearestName("x", ["a", "b"]), undefined);
    assert.equal(nearestName("a".repeat(1e6), known), undefined);
  });

  it("counts edits as the textbook's table does, up to its limit", () => {
    const word = fc.string({ unit: fc.constantFrom("a", "b", "c"), maxLength: 8 });
    fc.assert(
      fc.property(word, word, fc.integer({ min: 0, max: 8 }), (a, b, most) => {
        assert.equal(editDistance(a, b, most), Math.min(slowDistance(a, b), most + 1));
      }),
      { seed: 5, numRuns: 2000 },
    );
  });
});
