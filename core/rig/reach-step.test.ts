import assert from "node:assert/strict";
import { solveDense } from "../base/linear.ts";
import { seededRandom } from "../base/random.ts";
import { addStep } from "./reach-step.ts";

describe("addStep", () => {
  it("solves the weighted normal equations, axes held, as elimination does", () => {
    const random = seededRandom(4);
    for (let run = 0; run < 300; run++) {
      const count = 6 + (run % 4);
      const draw = (n: number): Float64Array => Float64Array.from({ length: n }, () => random() - 0.5);
      const [slope, miss, step] = [draw(6 * count), draw(6), draw(count)];
      const axes = Int32Array.from({ length: count }, (_, k) => count - 1 - k);
      const weights = draw(count).map((value) => value + 0.7);
      const held = Uint8Array.from({ length: count }, (_, k) => (6 < count && k === 2 ? 1 : 0));
      const [angle, damping] = [0.5 + random(), 1e-3];
      const row = (r: number, k: number): number => (r < 3 ? 1 : angle) * slope[6 * axes[k] + r];
      const free = Array.from(axes.keys()).filter((k) => held[k] === 0);
      const sum = (of: (k: number) => number, over: readonly number[] = Array.from(axes.keys())): number =>
        over.reduce((total, k) => total + of(k), 0);
      const square = (r: number, c: number): number => sum((k) => weights[k] * row(r, k) * row(c, k), free);
      const largest = Math.max(1, ...[0, 1, 2, 3, 4, 5].map((r) => square(r, r)));
      const matrix = Float64Array.from({ length: 36 }, (_, i) => {
        const [r, c] = [Math.floor(i / 6), i % 6];
        return square(r, c) + (r === c ? damping * largest : 0);
      });
      const right = Float64Array.from({ length: 6 }, (_, r) => {
        return (r < 3 ? 1 : angle) * miss[r] + sum((k) => row(r, k) * step[k]);
      });
      assert.ok(0 < solveDense(matrix, right, 6));
      const wanted = step.map((value, k) =>
        held[k] === 1 ? value : value - weights[k] * right.reduce((total, part, r) => total + part * row(r, k), 0),
      );
      assert.ok(addStep(slope, miss, axes, weights, held, step, angle, damping));
      step.forEach((value, k) => assert.ok(Math.abs(value - wanted[k]) < 1e-9 * (1 + Math.abs(wanted[k]))));
    }
  });

  it("leaves the step alone where nothing moves the camera", () => {
    const step = new Float64Array(2);
    const [axes, weights] = [Int32Array.of(0, 1), Float64Array.of(1, 1)];
    assert.equal(
      addStep(new Float64Array(12), new Float64Array(6).fill(1), axes, weights, new Uint8Array(2), step, 1, 1e-9),
      false,
    );
    assert.deepEqual([...step], [0, 0]);
  });
});
