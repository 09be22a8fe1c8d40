import assert from "node:assert/strict";
import { solveDense } from "./linear.ts";
import { seededRandom } from "./random.ts";

describe("linear equations", () => {
  it("are solved: a · x gives b back, rows to be exchanged included", () => {
    const random = seededRandom(1);
    for (let run = 0; run < 500; run++) {
      const n = 1 + (run % 8);
      const a = Float64Array.from({ length: n * n }, () => random() - 0.5);
      if (run % 3 === 0) a[0] = 0;
      if (n === 1) a[0] = 0.3;
      const b = Float64Array.from({ length: n }, () => random() - 0.5);
      const x = Float64Array.from(b);
      const pivot = solveDense(Float64Array.from(a), x, n);
      if (pivot < 1e-4) continue;
      for (let r = 0; r < n; r++) {
        const sum = x.reduce((total, value, c) => total + a[r * n + c] * value, 0);
        assert.ok(Math.abs(sum - b[r]) < 1e-9, `${n}: ${sum} for ${b[r]}`);
      }
    }
  });

  it("are refused when singular or not finite", () => {
    assert.equal(solveDense(Float64Array.of(0, 0, 0, 0), Float64Array.of(1, 1), 2), 0);
    assert.ok(solveDense(Float64Array.of(1, 2, 2, 4), Float64Array.of(1, 1), 2) < 1e-15);
    assert.equal(solveDense(Float64Array.of(NaN, 0, 0, 1), Float64Array.of(1, 1), 2), 0);
  });
});

describe("seededRandom", () => {
  it("draws the same numbers for the same seed, others for another, evenly spread", () => {
    const draw = (seed: number): number[] => {
      const random = seededRandom(seed);
      return Array.from({ length: 20_000 }, random);
    };
    const [a, b, c] = [draw(1), draw(1), draw(2)];
    assert.deepEqual(a, b);
    assert.notDeepEqual(a, c);
    const mean = a.reduce((sum, value) => sum + value, 0) / a.length;
    // The mean of n even draws has standard deviation 1 / sqrt(12 n).
    assert.ok(Math.abs(mean - 0.5) < 4 / Math.sqrt(12 * a.length));
    assert.ok(a.every((value) => 0 <= value && value < 1));
    for (let bin = 0; bin < 10; bin++) {
      const count = a.filter((value) => Math.floor(value * 10) === bin).length;
      assert.ok(Math.abs(count - 2000) < 4 * Math.sqrt(1800), `${bin}: ${count}`);
    }
  });
});
