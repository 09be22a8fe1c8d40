import assert from "node:assert/strict";
import fc from "fast-check";
import { denseStep, determinantSign, STEP_SCRATCH } from "./dense-step.ts";

const entry = fc.double({ min: -2, max: 2, noNaN: true });
const system = fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 0, max: 3 })).chain(([columns, more]) =>
  fc.record({
    columns: fc.constant(columns),
    rows: fc.constant(Math.min(6, columns + more)),
    entries: fc.array(entry, { minLength: 36, maxLength: 36 }),
    right: fc.array(entry, { minLength: 6, maxLength: 6 }),
  }),
);

describe("a step of up to six unknowns", () => {
  it("leaves nothing of the residual along any column, and nothing at all where the system is square", () => {
    fc.assert(
      fc.property(system, ({ rows, columns, entries, right }) => {
        // Diagonally heavy, so that the condition stays below some thousands.
        const j = Float64Array.from({ length: rows * columns }, (_, i) => {
          return entries[i] * 0.3 + (Math.floor(i / columns) === i % columns ? 3 : 0);
        });
        const r = Float64Array.from(right);
        const x = new Float64Array(6);
        denseStep(j, r, rows, columns, new Float64Array(STEP_SCRATCH), x);
        const left = Array.from({ length: rows }, (_, row) => {
          let sum = r[row];
          for (let c = 0; c < columns; c++) sum -= j[row * columns + c] * x[c];
          return sum;
        });
        for (let c = 0; c < columns; c++) {
          const along = left.reduce((sum, miss, row) => sum + miss * j[row * columns + c], 0);
          assert.ok(Math.abs(along) < 1e-12, `${rows} x ${columns}: ${along}`);
        }
        if (rows === columns) left.forEach((miss) => assert.ok(Math.abs(miss) < 1e-12));
      }),
      { seed: 31, numRuns: 400 },
    );
  });

  it("is finite where the system is singular", () => {
    for (const n of [1, 3, 6]) {
      const x = new Float64Array(6).fill(NaN);
      denseStep(
        new Float64Array(36).fill(1),
        Float64Array.of(1, 2, 3, 4, 5, 6),
        n,
        n,
        new Float64Array(STEP_SCRATCH),
        x,
      );
      assert.ok(x.subarray(0, n).every(Number.isFinite));
      denseStep(new Float64Array(36), new Float64Array(6).fill(1), n, n, new Float64Array(STEP_SCRATCH), x);
      assert.ok(x.subarray(0, n).every((value) => value === 0));
    }
  });

  it("tells the sign of a determinant: of a permutation its parity, and a swap of rows turns it round", () => {
    const scratch = new Float64Array(STEP_SCRATCH);
    const permuted = (order: readonly number[], size: number): Float64Array => {
      const j = new Float64Array(36);
      order.forEach((column, row) => (j[row * order.length + column] = size));
      return j;
    };
    assert.equal(determinantSign(permuted([0, 1, 2, 3, 4, 5], 2), 6, 6, scratch), 1);
    assert.equal(determinantSign(permuted([1, 0, 2, 3, 4, 5], 2), 6, 6, scratch), -1);
    assert.equal(determinantSign(permuted([1, 2, 3, 4, 0], 0.5), 5, 5, scratch), 1);
    assert.equal(determinantSign(permuted([1, 2, 3, 0], -1), 4, 4, scratch), -1);
    assert.equal(determinantSign(new Float64Array(36).fill(1), 4, 4, scratch), 0);
    assert.equal(determinantSign(permuted([0, 1, 2, 3], 1), 5, 4, scratch), 0);
  });
});
