import assert from "node:assert/strict";
import fc from "fast-check";
import { part } from "../../test/support/lenses.ts";
import { distort, growsUpTo, undistort } from "./distortion.ts";
import type { Distortion } from "./resolved-optics.ts";

const anyDistortion: fc.Arbitrary<Distortion> = fc.record({
  k1: part(0.2),
  k2: part(0.1),
  p1: part(0.01),
  p2: part(0.01),
  k3: part(0.05),
});

describe("distort", () => {
  it("gives derivatives that agree with difference quotients", () => {
    fc.assert(
      fc.property(anyDistortion, part(0.8), part(0.8), (d, x, y) => {
        const [here, more, less] = [0, 1, 2].map(() => new Float64Array(5));
        const h = 1e-6;
        distort(d, x, y, here);
        for (const [dx, dy, rows] of [
          [h, 0, [2, 3]],
          [0, h, [3, 4]],
        ] as const) {
          distort(d, x + dx, y + dy, more);
          distort(d, x - dx, y - dy, less);
          for (const k of [0, 1]) assert.ok(Math.abs((more[k] - less[k]) / (2 * h) - here[rows[k]]) < 1e-8);
        }
      }),
      { numRuns: 500, seed: 7 },
    );
  });

  it("is undone by undistort wherever it does not fold", () => {
    fc.assert(
      fc.property(anyDistortion, part(0.9), part(0.9), (d, x, y) => {
        const out = new Float64Array(5);
        // Folds of the tangential terms are the business of distortionIsMonotone; stay where both keep their sense.
        for (let k = 0; k <= 20; k++) {
          distort(d, (x * k) / 20, (y * k) / 20, out);
          fc.pre(0.1 < out[2] * out[4] - out[3] * out[3] && 0 < out[2]);
        }
        fc.pre(growsUpTo(d, x * x + y * y));
        const back = new Float64Array(2);
        const found = undistort(d, out[0], out[1], back, new Float64Array(5));
        assert.ok(found && Math.hypot(back[0] - x, back[1] - y) < 1e-10, `${found} ${back.join()} for ${x}, ${y}`);
      }),
      { numRuns: 2000, seed: 8 },
    );
  });
});
