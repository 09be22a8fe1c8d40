import assert from "node:assert/strict";
import { solveDense } from "../base/linear.ts";
import { seededRandom } from "../base/random.ts";
import { solveBanded } from "./banded-solve.ts";

describe("banded systems", () => {
  it("are solved as elimination of the whole matrix solves them", () => {
    const random = seededRandom(5);
    for (const n of [1, 2, 3, 4, 9, 30]) {
      const bands = new Float64Array(3 * n);
      const whole = new Float64Array(n * n);
      for (let i = 0; i < n; i++) {
        for (let k = 0; k < 3 && i + k < n; k++) {
          // Diagonally dominant, so positive definite.
          const value = k === 0 ? 3 + random() : 1.4 * random() - 0.7;
          bands[3 * i + k] = whole[i * n + i + k] = whole[(i + k) * n + i] = value;
        }
      }
      const right = Float64Array.from({ length: n }, () => random() - 0.5);
      const [x, y] = [right.slice(), right.slice()];
      assert.ok(solveBanded(bands, x, n));
      solveDense(whole, y, n);
      for (let i = 0; i < n; i++) assert.ok(Math.abs(x[i] - y[i]) < 1e-12);
    }
  });

  it("that are not positive definite are refused", () => {
    assert.equal(solveBanded(Float64Array.of(1, 2, 0, 1, 0, 0), Float64Array.of(1, 1), 2), false);
    assert.equal(solveBanded(Float64Array.of(NaN, 0, 0), Float64Array.of(1), 1), false);
  });
});
