import assert from "node:assert/strict";
import fc from "fast-check";
import { clockedCurve } from "./clocked-curve.ts";
import {
  clockFromPlayed,
  clockFromWritten,
  playedAt,
  writeWritten,
  writtenAt,
  type Clock,
  type Pace,
} from "./clock.ts";
import { keyedCurve } from "./keyed-curve.ts";
import { pieceAt, valueAt, writeSeries, type Piecewise } from "./piecewise.ts";
import { FACTORIAL, ROOM } from "./series.ts";

const paces: fc.Arbitrary<Pace[]> = fc
  .array(
    fc.record({
      step: fc.double({ min: 0.2, max: 5, noNaN: true }),
      share: fc.double({ min: 0.05, max: 4, noNaN: true }),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((rows) => {
    let time = 0;
    return rows.map(({ step, share }, i) => ({ time: (time += i === 0 && step < 2 ? 0 : step), share }));
  });

const channels = fc
  .array(
    fc.record({
      step: fc.double({ min: 0.1, max: 4, noNaN: true }),
      value: fc.integer({ min: -100, max: 100 }).map((tenths) => tenths / 10),
      rest: fc.boolean(),
    }),
    { minLength: 2, maxLength: 8 },
  )
  .map((rows) => {
    let time = 0;
    return rows.map(({ step, value, rest }) => ({ time: (time += step), value, rest }));
  });

function derivatives(curve: Piecewise, t: number, side: "left" | "right" = "right"): number[] {
  const out = new Float64Array(ROOM);
  writeSeries(curve, pieceAt(curve.times, t, side), t, 3, out, 0);
  return [0, 1, 2, 3].map((k) => FACTORIAL[k] * out[k]);
}

/** The share of speed at `t` as its definition says, by the minimum-jerk curve between neighbouring paces. */
function shareAt(list: readonly Pace[], t: number): number {
  const after = list.findIndex((pace) => t < pace.time);
  if (after < 0) return list[list.length - 1].share;
  if (after === 0) return list[0].share;
  const [a, b] = [list[after - 1], list[after]];
  const s = (t - a.time) / (b.time - a.time);
  return a.share + (b.share - a.share) * s ** 3 * (10 - 15 * s + 6 * s * s);
}

const lastTime = (list: readonly Pace[]): number => list[list.length - 1].time;

describe("the clock of keyed speeds", () => {
  it("writes the integral of the share of speed", () => {
    fc.assert(
      fc.property(paces, (list) => {
        const clock = clockFromPlayed(list)!;
        // Simpson's rule between paces, where the share is one polynomial.
        let sum = 0;
        let from = 0;
        for (const to of [...list.map((pace) => pace.time), lastTime(list) + 2]) {
          const parts = 64;
          const h = (to - from) / parts;
          for (let p = 0; p < parts; p++) {
            const at = (share: number): number => shareAt(list, from + (p + share) * h);
            const right = p === parts - 1 ? shareAt(list, to - 1e-13 * to) : at(1);
            sum += (h / 6) * (at(0) + 4 * at(0.5) + right);
          }
          assert.ok(Math.abs(writtenAt(clock, to) - sum) < 1e-7 * (1 + sum), `${writtenAt(clock, to)} ${sum}`);
          from = to;
        }
      }),
      { seed: 11, numRuns: 200 },
    );
  });

  it("takes twice the written time over the sum of both shares, whichever way it is asked", () => {
    const clock = clockFromWritten([
      { time: 1, share: 0.5 },
      { time: 4, share: 1.5 },
      { time: 6, share: 1.5 },
    ])!;
    // By hand: 1 s at 50 % is 2 s; 3 s between 0.5 and 1.5 are 2 · 3 / 2 = 3 s; 2 s at 150 % are 4/3 s.
    assert.ok(Math.abs(playedAt(clock, 1) - 2) < 1e-15);
    assert.ok(Math.abs(playedAt(clock, 4) - 5) < 1e-15);
    assert.ok(Math.abs(playedAt(clock, 6) - (5 + 4 / 3)) < 1e-14);
    assert.ok(Math.abs(playedAt(clock, 9) - (5 + 10 / 3)) < 1e-14);
    const again = clockFromPlayed([
      { time: 2, share: 0.5 },
      { time: 5, share: 1.5 },
      { time: 5 + 4 / 3, share: 1.5 },
    ])!;
    for (let t = 0; t < 10; t += 0.1) assert.ok(Math.abs(writtenAt(clock, t) - writtenAt(again, t)) < 1e-13);
  });

  it("is undone by its inverse", () => {
    fc.assert(
      fc.property(paces, fc.double({ min: 0, max: 1.2, noNaN: true }), (list, part) => {
        const clock = clockFromPlayed(list)!;
        const t = part * (lastTime(list) + 1);
        const back = playedAt(clock, writtenAt(clock, t));
        // A second of the slowest share writes 0.05 s, so rounding of what is written comes back 20-fold.
        assert.ok(Math.abs(back - t) < 1e-13 * (1 + t) * 20, `${t} ${back}`);
      }),
      { seed: 12, numRuns: 500 },
    );
  });

  it("has the derivatives of the share that it is made of", () => {
    const list = [
      { time: 0.5, share: 0.4 },
      { time: 3, share: 2 },
    ];
    const clock = clockFromPlayed(list)!;
    const u = new Float64Array(ROOM);
    const h = 1e-3;
    for (const t of [0.2, 0.9, 1.7, 2.8, 3.4]) {
      writeWritten(clock, t, 4, u);
      const at = (n: number): number => shareAt(list, t + n * h);
      assert.ok(Math.abs(u[1] - at(0)) < 1e-13);
      assert.ok(Math.abs(2 * u[2] - (at(1) - at(-1)) / (2 * h)) < 1e-5);
      assert.ok(Math.abs(6 * u[3] - (at(1) - 2 * at(0) + at(-1)) / h ** 2) < 1e-4);
      assert.ok(Math.abs(24 * u[4] - (at(2) - 2 * at(1) + 2 * at(-1) - at(-2)) / (2 * h ** 3)) < 1e-3);
    }
  });

  it("is none without a usable speed", () => {
    assert.equal(clockFromPlayed([]), undefined);
    assert.equal(clockFromPlayed([{ time: 0, share: 0 }]), undefined);
    assert.equal(clockFromWritten([{ time: NaN, share: 1 }]), undefined);
  });
});

describe("a curve over written time, played", () => {
  it("at 50 % is the same at exactly twice the time", () => {
    const curve = keyedCurve([0, 2, 1, 4].map((value, i) => ({ time: i ** 2 / 3, value, rest: false })));
    const clock = clockFromPlayed([{ time: 0, share: 0.5 }])!;
    const played = clockedCurve(curve, clock);
    assert.deepEqual(
      Array.from(played.times),
      Array.from(curve.times, (t) => 2 * t),
    );
    assert.deepEqual(played.coefficients, curve.coefficients);
  });

  const worst = (curve: Piecewise, clock: Clock, played: Piecewise): number => {
    const [first, last] = [played.times[0], played.times[played.times.length - 1]];
    let off = 0;
    for (let i = 0; i <= 700; i++) {
      const t = first + ((last - first) * i) / 700;
      off = Math.max(off, Math.abs(valueAt(played, t) - valueAt(curve, writtenAt(clock, t))));
    }
    return off;
  };

  it("is nearer than 1e-9 of its size to what it is made of, and C2", () => {
    fc.assert(
      fc.property(channels, paces, (knots, list) => {
        const curve = keyedCurve(knots);
        const clock = clockFromPlayed(list)!;
        const played = clockedCurve(curve, clock);
        if (played.degree === 0) return;
        const size = Math.max(...knots.map(({ value }) => Math.abs(value)));
        assert.ok(worst(curve, clock, played) < 1e-9 * size, `${worst(curve, clock, played)}`);
        for (const t of played.times.subarray(1, -1)) {
          const piece = pieceAt(played.times, t, "left");
          const step = Math.min(t - played.times[piece], played.times[piece + 2] - t);
          const [left, right] = [derivatives(played, t, "left"), derivatives(played, t)];
          // Rounding of a coefficient of size 1e3, divided by the step for each order.
          for (let k = 0; k < 3; k++)
            assert.ok(Math.abs(left[k] - right[k]) <= 1e-12 * size * (1 + step ** -k), `order ${k}`);
        }
        for (const [t, side] of [
          [played.times[0], "right"],
          [played.times[played.times.length - 1], "left"],
        ] as const) {
          for (const k of [1, 2]) assert.ok(Math.abs(derivatives(played, t, side)[k]) < 1e-9 * size);
        }
      }),
      { seed: 13, numRuns: 300 },
    );
  });

  it("has the speed of the chain rule, by differences", () => {
    const curve = keyedCurve([0, 3, 1].map((value, i) => ({ time: 2 * i, value, rest: false })));
    const list = [
      { time: 0, share: 0.5 },
      { time: 3, share: 1.6 },
    ];
    const clock = clockFromPlayed(list)!;
    const played = clockedCurve(curve, clock);
    const h = 1e-4;
    for (const t of [0.4, 1.1, 2.2, 2.9]) {
      const at = (n: number): number => valueAt(curve, writtenAt(clock, t + n * h));
      const [, speed, accel] = derivatives(played, t);
      assert.ok(Math.abs(speed - (at(1) - at(-1)) / (2 * h)) < 1e-6);
      assert.ok(Math.abs(accel - (at(1) - 2 * at(0) + at(-1)) / h ** 2) < 1e-4);
    }
  });
});
