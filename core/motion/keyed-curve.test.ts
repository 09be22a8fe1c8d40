import assert from "node:assert/strict";
import fc from "fast-check";
import { keyedCurve, type Knot } from "./keyed-curve.ts";
import { pieceAt, valueAt, writeSeries, type Piecewise } from "./piecewise.ts";
import { FACTORIAL, ROOM } from "./series.ts";

function derivatives(curve: Piecewise, t: number, side: "left" | "right" = "right"): number[] {
  const out = new Float64Array(ROOM);
  writeSeries(curve, pieceAt(curve.times, t, side), t, 3, out, 0);
  return [0, 1, 2, 3].map((k) => out[k] * FACTORIAL[k]);
}

const knots: fc.Arbitrary<Knot[]> = fc
  .array(
    fc.record({
      step: fc.double({ min: 0.01, max: 10, noNaN: true }),
      value: fc.oneof(
        fc.integer({ min: -3, max: 3 }),
        fc.integer({ min: -5_000_000, max: 5_000_000 }).map((n) => n / 1e6),
      ),
      rest: fc.oneof({ weight: 4, arbitrary: fc.constant(false) }, { weight: 1, arbitrary: fc.constant(true) }),
    }),
    { minLength: 2, maxLength: 12 },
  )
  .map((rows) => {
    let time = 0;
    return rows.map(({ step, value, rest }, i) => ({ time: (time += i === 0 ? 0 : step), value, rest }));
  });

/** Integral of the squared jerk by Simpson's rule, exact for its quartic on each piece. */
function squaredJerk(curve: Piecewise): number {
  let sum = 0;
  for (let i = 0; i + 1 < curve.times.length; i++) {
    const [a, b] = [curve.times[i], curve.times[i + 1]];
    const parts = 8;
    for (let p = 0; p < parts; p++) {
      const h = (b - a) / parts;
      const jerk = (share: number): number => {
        const out = new Float64Array(ROOM);
        writeSeries(curve, i, a + (p + share) * h, 3, out, 0);
        return (6 * out[3]) ** 2;
      };
      sum += (h / 6) * (jerk(0) + 4 * jerk(0.5) + jerk(1));
    }
  }
  return sum;
}

describe("a keyed curve", () => {
  it("is the minimum-jerk curve from rest to rest", () => {
    // Peaks of 10 s³ - 15 s⁴ + 6 s⁵: Flash and Hogan 1985; recomputed at socsci.ru.nl/wilberth/physics/smooth.html.
    const curve = keyedCurve([
      { time: 1, value: 2, rest: false },
      { time: 3, value: 5, rest: false },
    ]);
    const [d, h] = [3, 2];
    const near = (a: number, b: number): void =>
      assert.ok(Math.abs(a - b) < 1e-12 * Math.max(1, Math.abs(b)), `${a} ${b}`);
    near(derivatives(curve, 2)[1], (1.875 * d) / h);
    const peak = 1 + h * ((3 - Math.sqrt(3)) / 6);
    near(derivatives(curve, peak)[2], ((10 / Math.sqrt(3)) * d) / h ** 2);
    near(derivatives(curve, peak)[3], 0);
    near(derivatives(curve, 1)[3], (60 * d) / h ** 3);
    near(derivatives(curve, 2)[3], (-30 * d) / h ** 3);
    near(derivatives(curve, 3, "left")[3], (60 * d) / h ** 3);
    near(valueAt(curve, 0), 2);
    near(valueAt(curve, 9), 5);
  });

  it("meets its knots, rests at both ends and stops, and is C2 between", () => {
    fc.assert(
      fc.property(knots, (list) => {
        const curve = keyedCurve(list);
        list.forEach((knot, i) => {
          if (curve.degree === 0) return assert.equal(curve.coefficients[0], knot.value);
          const right = derivatives(curve, knot.time, i === list.length - 1 ? "left" : "right");
          const left = derivatives(curve, knot.time, i === 0 ? "right" : "left");
          const step = Math.min(
            i === 0 ? Infinity : knot.time - list[i - 1].time,
            i === list.length - 1 ? Infinity : list[i + 1].time - knot.time,
          );
          // Rounding of a coefficient of size 1e2, divided by the step for each order.
          for (let k = 0; k < 3; k++) assert.ok(Math.abs(left[k] - right[k]) <= 1e-12 / step ** k, `order ${k}`);
          assert.ok(Math.abs(right[0] - knot.value) < 1e-12);
          if (knot.rest || i === 0 || i === list.length - 1) {
            for (const k of [1, 2]) assert.ok(Math.abs(right[k]) <= 1e-12 / step ** k, `rest ${k}`);
          }
        });
      }),
      { seed: 2, numRuns: 500 },
    );
  });

  it("is monotone between neighbouring knots, flat between equal ones, and has no speed where the data turn", () => {
    fc.assert(
      fc.property(knots, (list) => {
        const curve = keyedCurve(list);
        for (let i = 0; i + 1 < list.length; i++) {
          const [a, b] = [list[i], list[i + 1]];
          const rise = b.value - a.value;
          const span = b.time - a.time;
          for (let n = 0; n <= 40; n++) {
            const [value, speed] = derivatives(curve, a.time + (span * n) / 40, n === 40 ? "left" : "right");
            if (rise === 0) assert.ok(Math.abs(value - a.value) < 1e-12 && Math.abs(speed) < 1e-12);
            else {
              assert.ok(-1e-11 <= (speed * span) / rise, `speed ${speed} against the rise`);
              assert.ok(Math.min(a.value, b.value) - 1e-12 <= value && value <= Math.max(a.value, b.value) + 1e-12);
            }
          }
          if (i === 0) continue;
          const turns = (a.value - list[i - 1].value) * rise <= 0;
          if (turns) assert.ok(Math.abs(derivatives(curve, a.time)[1]) < 1e-12);
        }
      }),
      { seed: 3, numRuns: 500 },
    );
  });

  it("is one minimum-jerk curve through knots that lie on one", () => {
    const whole = keyedCurve([
      { time: 0, value: 0, rest: false },
      { time: 1, value: 1, rest: false },
    ]);
    const times = [0, 0.2, 0.35, 0.65, 0.8, 1];
    const curve = keyedCurve(times.map((time) => ({ time, value: valueAt(whole, time), rest: false })));
    for (let t = 0; t <= 1; t += 1 / 64) {
      const wanted = derivatives(whole, t);
      derivatives(curve, t).forEach((value, k) => assert.ok(Math.abs(value - wanted[k]) < 1e-6, `order ${k} at ${t}`));
    }
  });

  it("has less jerk than with other speeds at its knots", () => {
    const list = [0, 0.06, 0.3, 0.7, 0.93, 1].map((value, time) => ({ time, value, rest: false }));
    const curve = keyedCurve(list);
    const best = squaredJerk(curve);
    for (let knot = 1; knot < 5; knot++) {
      const [, speed, accel] = derivatives(curve, knot);
      for (const [dv, da] of [
        [0.01, 0],
        [-0.01, 0],
        [0, 0.02],
        [0, -0.02],
      ]) {
        // The other knots keep their rates, so that only this one is changed.
        const ends = { speed: speed + dv, accel: accel + da };
        const pieces = list.slice(0, -1).map((from, i) => {
          const rates = (at: number): { speed: number; accel: number } => {
            const [, v, a] = derivatives(curve, at, at === 5 ? "left" : "right");
            return at === knot ? ends : { speed: v, accel: a };
          };
          return keyedCurve([from, list[i + 1]], [], { start: rates(i), end: rates(i + 1) });
        });
        assert.ok(best < pieces.reduce((sum, piece) => sum + squaredJerk(piece), 0), `knot ${knot}, ${dv}, ${da}`);
      }
    }
  });

  it("moves through even data with far less jerk than by resting at each knot", () => {
    const list = [0, 1, 2, 3, 4].map((value, time) => ({ time, value, rest: false }));
    const resting = keyedCurve(list.map((knot) => ({ ...knot, rest: true })));
    assert.ok(squaredJerk(keyedCurve(list)) < 0.3 * squaredJerk(resting));
  });

  it("rests at a stop where it has no knot, at the place that it would have passed", () => {
    const list = [0, 1, 3].map((value, i) => ({ time: 2 * i, value, rest: false }));
    const passing = keyedCurve(list);
    const stopping = keyedCurve(list, [{ from: 3, to: 3 }]);
    const [value, speed, accel] = derivatives(stopping, 3);
    assert.ok(Math.abs(value - valueAt(passing, 3)) < 1e-12);
    assert.ok(Math.abs(speed) < 1e-12 && Math.abs(accel) < 1e-11);
  });

  it("comes out finite from knots at one time, of huge size or without number", () => {
    const odd = [
      { time: 0, value: 1, rest: false },
      { time: 0, value: 2, rest: false },
      { time: 1, value: NaN, rest: false },
      { time: 1, value: 1e300, rest: false },
      { time: 1 + 1e-12, value: -1e300, rest: false },
      { time: 1e7, value: 0, rest: false },
    ];
    const curve = keyedCurve(odd);
    for (const t of [0, 0.5, 1, 2, 1e6, 1e7]) assert.ok(derivatives(curve, t).every(Number.isFinite));
    assert.equal(valueAt(curve, 0), 2);
    assert.equal(valueAt(keyedCurve([]), 3), 0);
  });
});
