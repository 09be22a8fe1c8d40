import assert from "node:assert/strict";
import fc from "fast-check";
import { rootsWithin } from "./polynomial-roots.ts";

/** Coefficients, lowest first, of the product of (x - root). */
function fromRoots(roots: readonly number[]): number[] {
  return roots.reduce<number[]>(
    (c, root) => [...c, 0].map((_, k) => (k === 0 ? 0 : c[k - 1]) - (k < c.length ? root * c[k] : 0)),
    [1],
  );
}

describe("roots of a polynomial", () => {
  it("are those that it was made from", () => {
    const separate = fc
      .uniqueArray(fc.integer({ min: -40, max: 40 }), { minLength: 1, maxLength: 8 })
      .map((list) => list.map((n) => n / 20).sort((a, b) => a - b));
    fc.assert(
      fc.property(separate, fc.double({ min: 0.01, max: 100, noNaN: true }), (roots, scale) => {
        const found = rootsWithin(
          fromRoots(roots).map((c) => c * scale),
          -1,
          1,
        );
        const wanted = roots.filter((root) => -1 <= root && root <= 1);
        // Rounding moves a root at the very edge in or out.
        const inner = (list: readonly number[]): number[] => list.filter((root) => Math.abs(root) < 0.99);
        assert.equal(inner(found).length, inner(wanted).length);
        inner(wanted).forEach((root, i) => assert.ok(Math.abs(inner(found)[i] - root) < 1e-6));
      }),
      { seed: 1, numRuns: 500 },
    );
  });

  it("are found where the polynomial only touches", () => {
    assert.deepEqual(
      rootsWithin(fromRoots([0.5, 0.5]), 0, 1).map((x) => x.toFixed(9)),
      ["0.500000000"],
    );
  });

  it("are none for a constant, and none outside", () => {
    assert.deepEqual(rootsWithin([0, 0, 0], 0, 1), []);
    assert.deepEqual(rootsWithin([2], 0, 1), []);
    assert.deepEqual(rootsWithin([-2, 1], 0, 1), []);
    assert.deepEqual(rootsWithin([-1, 4, 0, 0], 0, 1), [0.25]);
  });
});
