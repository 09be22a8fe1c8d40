import assert from "node:assert/strict";
import fc from "fast-check";
import { bezierAt } from "./ease-bezier.ts";
import { easeShape } from "./ease-shape.ts";
import { pieceAt, valueAt, writeSeries, type Piecewise } from "./piecewise.ts";
import type { ResolvedEase } from "./resolved-move.ts";
import { FACTORIAL, ROOM } from "./series.ts";

function derivatives(curve: Piecewise, t: number, side: "left" | "right" = "right"): number[] {
  const out = new Float64Array(ROOM);
  writeSeries(curve, pieceAt(curve.times, t, side), t, 3, out, 0);
  return [0, 1, 2, 3].map((k) => FACTORIAL[k] * out[k]);
}

const near = (a: number, b: number, slack = 1e-12): void =>
  assert.ok(Math.abs(a - b) <= slack * Math.max(1, Math.abs(b)), `${a} is not ${b}`);

/** y of a cubic Bézier curve over x by plain bisection of its textbook form: nothing of the code under test. */
function bezierByBisection([x1, y1, x2, y2]: readonly number[], x: number): number {
  const at = (a: number, b: number, p: number): number => 3 * (1 - p) ** 2 * p * a + 3 * (1 - p) * p ** 2 * b + p ** 3;
  let [low, high] = [0, 1];
  for (let step = 0; step < 200; step++) {
    const middle = (low + high) / 2;
    if (at(x1, x2, middle) < x) low = middle;
    else high = middle;
  }
  return at(y1, y2, (low + high) / 2);
}

/** The named curves of CSS Easing Functions Level 1, section "Cubic Bézier easing functions". */
const NAMED = {
  ease: [0.25, 0.1, 0.25, 1],
  "ease-in": [0.42, 0, 1, 1],
  "ease-out": [0, 0, 0.58, 1],
  "ease-in-out": [0.42, 0, 0.58, 1],
} as const;

const eases: fc.Arbitrary<ResolvedEase> = fc.oneof(
  fc.constant<ResolvedEase>({ kind: "minimum-jerk" }),
  fc.double({ min: 0.001, max: 3, noNaN: true }).map((ramp): ResolvedEase => ({ kind: "linear", ramp })),
  fc
    .tuple(
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: -2, max: 3, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.double({ min: -2, max: 3, noNaN: true }),
      fc.option(fc.double({ min: 0.01, max: 3, noNaN: true }), { nil: undefined }),
    )
    .map(([x1, y1, x2, y2, ramp]): ResolvedEase => ({
      kind: "cubic",
      handles: [x1, y1, x2, y2],
      ...(ramp !== undefined && { ramp }),
    })),
);

describe("the shape of an ease", () => {
  it("of least jerk has the peaks of the minimum-jerk curve", () => {
    // Flash and Hogan 1985: 1.875 d/T, 5.7735 d/T², 60 d/T³.
    const shape = easeShape({ kind: "minimum-jerk" }, 4);
    near(derivatives(shape, 2)[1], 1.875 / 4);
    near(derivatives(shape, 4 * ((3 - Math.sqrt(3)) / 6))[2], 10 / Math.sqrt(3) / 16);
    near(derivatives(shape, 0)[3], 60 / 64);
  });

  it("of constant speed covers a trapezoid whose ramps each cover half of their time", () => {
    // By hand: 1 = v (T - r). T = 5 s, r = 1 s: v = 0.25; the ramp covers 0.125, the first 2 s 0.375.
    const shape = easeShape({ kind: "linear", ramp: 1 }, 5);
    for (const t of [1, 2, 3.9]) near(derivatives(shape, t)[1], 0.25);
    near(valueAt(shape, 1), 0.125);
    near(valueAt(shape, 2), 0.375);
    near(valueAt(shape, 5), 1);
    // The speed in a ramp is v (3 s² - 2 s³); its steepest slope is 1.5 v / r, in the middle of the ramp.
    near(derivatives(shape, 0.25)[1], 0.25 * (3 / 16 - 2 / 64));
    near(derivatives(shape, 0.5)[2], 1.5 * 0.25);
    near(derivatives(shape, 4.5)[2], -1.5 * 0.25);
    assert.equal(easeShape({ kind: "linear", ramp: 2.5 }, 5).times.length, 3);
    // A ramp that has no room is as long as there is.
    assert.deepEqual(easeShape({ kind: "linear", ramp: 9 }, 5), easeShape({ kind: "linear", ramp: 2.5 }, 5));
  });

  for (const [name, handles] of Object.entries(NAMED)) {
    it(`follows the published curve \`${name}\` but in its ramps`, () => {
      const shape = easeShape({ kind: "cubic", handles, ramp: 0.4 }, 8);
      for (let i = 0; i <= 500; i++) {
        const t = 0.4 + (7.2 * i) / 500;
        near(valueAt(shape, t), bezierByBisection(handles, t / 8), 1e-7);
      }
      near(valueAt(shape, 8), 1);
      const speeds = Array.from({ length: 2001 }, (_, i) => derivatives(shape, (8 * i) / 2000)[1]);
      assert.ok(Math.min(...speeds) >= -1e-12, "it goes back");
    });
  }

  it("overshoots where its handles say so", () => {
    const handles = [0.34, 1.56, 0.64, 1] as const;
    const shape = easeShape({ kind: "cubic", handles }, 1);
    const highest = Math.max(...Array.from({ length: 1001 }, (_, i) => valueAt(shape, i / 1000)));
    const wanted = Math.max(...Array.from({ length: 1001 }, (_, i) => bezierByBisection(handles, i / 1000)));
    assert.ok(1.05 < highest);
    near(highest, wanted, 1e-6);
  });

  it("rests at both ends and is C2, monotone where it is not cubic", () => {
    fc.assert(
      fc.property(eases, fc.double({ min: 0.2, max: 20, noNaN: true }), (ease, length) => {
        const shape = easeShape(ease, length);
        const scale = [1, 1 / length, 1 / length ** 2];
        const most = [0, 0, 0];
        for (let piece = 0; piece + 1 < shape.times.length; piece++) {
          assert.ok(shape.times[piece] < shape.times[piece + 1]);
        }
        for (const t of shape.times)
          derivatives(shape, t)
            .slice(0, 3)
            .forEach((d, k) => (most[k] = Math.max(most[k], Math.abs(d))));
        for (const t of shape.times.subarray(1, -1)) {
          const [left, right] = [derivatives(shape, t, "left"), derivatives(shape, t)];
          for (let k = 0; k < 3; k++) {
            assert.ok(Math.abs(left[k] - right[k]) <= 1e-7 * (most[k] + scale[k]), `order ${k} at ${t}`);
          }
        }
        const [start, end] = [derivatives(shape, 0), derivatives(shape, length, "left")];
        for (const k of [1, 2]) {
          assert.ok(Math.abs(start[k]) <= 1e-9 * scale[k] * (1 + most[k]), `start ${k}`);
          assert.ok(Math.abs(end[k]) <= 1e-7 * scale[k] * (1 + most[k] / scale[k]), `end ${k}`);
        }
        assert.equal(start[0], 0);
        near(end[0], 1, 1e-13 * (1 + most[1] / scale[1] + most[2] / scale[2]));
        if (ease.kind === "cubic") return;
        for (let i = 0; i <= 200; i++) assert.ok(-1e-12 <= derivatives(shape, (length * i) / 200)[1]);
      }),
      { seed: 5, numRuns: 400 },
    );
  });

  it("stays finite with handles that stand upright or are no numbers", () => {
    for (const handles of [
      [1, 0, 0, 1],
      [0, 1, 0, 1],
      [1, 0, 1, 0],
      [NaN, 0.1, Infinity, -Infinity],
      [-3, 1e300, 7, NaN],
    ] as const) {
      for (const ramp of [undefined, 0, NaN, 0.5]) {
        const shape = easeShape({ kind: "cubic", handles, ...(ramp !== undefined && { ramp }) }, 2);
        assert.ok(shape.coefficients.every(Number.isFinite) && shape.times.length < 2000);
        near(valueAt(shape, 2), 1);
      }
    }
  });

  it("has the slope and the bend of its Bézier curve", () => {
    const handles = [0.42, 0.1, 0.7, 1.2] as const;
    for (const x of [0.1, 0.37, 0.8]) {
      const h = 1e-4;
      const [a, b, c] = [x - h, x, x + h].map((at) => bezierByBisection(handles, at));
      const state = bezierAt(handles, x);
      near(state.value, b, 1e-13);
      near(state.speed, (c - a) / (2 * h), 1e-6);
      near(state.accel, (a - 2 * b + c) / h ** 2, 1e-5);
    }
  });
});
