import assert from "node:assert/strict";
import fc from "fast-check";
import { deriveBernstein, writeBernstein } from "./bernstein.ts";

const valueOf = (c: readonly number[], s: number): number => c.reduceRight((sum, one) => sum * s + one, 0);
const derived = (c: readonly number[]): number[] => c.slice(1).map((one, k) => one * (k + 1));

describe("Bernstein coefficients", () => {
  it("of a cubic are those of the textbook: s³ over 0..1 has 0, 0, 0, 1, over 1..2 has 1, 2, 4, 8", () => {
    // Blossoms of s³ at (1,1,1), (1,1,2), (1,2,2), (2,2,2): products of their arguments.
    const out = new Float64Array(4);
    writeBernstein([0, 0, 0, 1], 0, 3, 0, 1, out);
    assert.deepEqual([...out], [0, 0, 0, 1]);
    writeBernstein([9, 0, 0, 0, 1], 1, 3, 1, 2, out);
    assert.deepEqual([...out], [1, 2, 4, 8]);
  });

  it("hold a polynomial and its derivatives between them", () => {
    const number = fc.double({ min: -10, max: 10, noNaN: true });
    const polynomial = fc.array(number, { minLength: 1, maxLength: 10 });
    fc.assert(
      fc.property(polynomial, number, fc.double({ min: 1e-3, max: 3, noNaN: true }), (c, low, length) => {
        const degree = c.length - 1;
        const b = new Float64Array(degree + 1);
        writeBernstein(c, 0, degree, low, low + length, b);
        const slack = 1e-9 * (1 + c.reduce((sum, one, k) => sum + Math.abs(one) * (Math.abs(low) + length) ** k, 0));
        assert.ok(Math.abs(b[0] - valueOf(c, low)) <= slack);
        assert.ok(Math.abs(b[degree] - valueOf(c, low + length)) <= slack);
        let [d, n] = [[...c], degree];
        for (let order = 0; order < 3; order++) {
          const used = Array.from(b.subarray(0, n + 1), (one) => one / length ** order);
          for (let i = 0; i <= 20; i++) {
            const value = d.length === 0 ? 0 : valueOf(d, low + (length * i) / 20);
            const room = slack * (20 / length) ** order;
            assert.ok(Math.min(...used) - room <= value && value <= Math.max(...used) + room);
          }
          d = derived(d);
          n = deriveBernstein(b, n);
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });
});
