import assert from "node:assert/strict";
import { seededRandom } from "../base/random.ts";
import type { KnotRates } from "./jerk-bowl.ts";
import { chooseKnotRates } from "./knot-rates.ts";
import { settleWindow } from "./rate-window.ts";

/** Farthest that an edit reaches: a block, its margin, the slopes beyond the cut and the piece that joins two blocks. */
const REACH = 24 + 10 + 2;

interface Data {
  readonly times: Float64Array;
  readonly values: Float64Array;
}

/** Knots without two equal neighbours: smooth, jumping or climbing ones. */
function data(count: number, seed: number): Data {
  const random = seededRandom(seed);
  const even = seed % 2 === 0;
  let [time, value] = [0, 0];
  const times = Float64Array.from({ length: count }, () => (time += even ? 1 : 0.2 + 2 * random()));
  const values = Float64Array.from({ length: count }, (_, i) => {
    if (seed % 3 === 0) return Math.sin(i / 5) + 0.01 * random();
    if (seed % 3 === 1) return (value += 0.05 + random());
    return random();
  });
  return { times, values };
}

function ratesOf({ times, values }: Data): KnotRates {
  const rates = { speed: new Float64Array(times.length), accel: new Float64Array(times.length) };
  chooseKnotRates(
    times,
    values,
    Array.from(times, (_, i) => i === 0 || i === times.length - 1),
    rates,
  );
  return rates;
}

/** Integral of the squared jerk, after `Bowls`. */
function squaredJerk({ times, values }: Data, { speed, accel }: KnotRates): number {
  let sum = 0;
  for (let i = 0; i + 1 < times.length; i++) {
    const h = times[i + 1] - times[i];
    const [v0, a0] = [speed[i] * h, accel[i] * h * h];
    const p = values[i + 1] - values[i] - v0 - a0 / 2;
    const v = speed[i + 1] * h - v0 - a0;
    const a = accel[i + 1] * h * h - a0;
    sum += (720 * p * p - 720 * p * v + 192 * v * v + 120 * p * a - 72 * v * a + 9 * a * a) / h ** 5;
  }
  return sum;
}

/** Indices of knots whose rates differ. */
function differing(a: KnotRates, b: KnotRates, shift = 0, from = 0): number[] {
  return Array.from(a.speed, (_, i) => i).filter((i) => {
    const j = i < from ? i : i + shift;
    return a.speed[i] !== b.speed[j] || a.accel[i] !== b.accel[j];
  });
}

describe("rates at the knots of a long channel", () => {
  it("change near an edit only, bit for bit", () => {
    for (let seed = 0; seed < 30; seed++) {
      const before = data(300, seed);
      const values = Float64Array.from(before.values);
      const edited = 140 + seed;
      values[edited] += 0.013;
      const changed = differing(ratesOf(before), ratesOf({ times: before.times, values }));
      assert.ok(0 < changed.length);
      for (const i of changed) assert.ok(Math.abs(i - edited) <= REACH, `seed ${seed}: knot ${i} by ${edited}`);
    }
  });

  it("stay beyond a knot that comes between", () => {
    for (let seed = 0; seed < 30; seed++) {
      const before = data(300, seed);
      const at = 120 + 3 * seed;
      const put = (list: Float64Array, value: number): Float64Array =>
        Float64Array.of(...list.subarray(0, at), value, ...list.subarray(at));
      const time = (before.times[at - 1] + before.times[at]) / 2;
      const value = before.values[at - 1] + 0.3 * (before.values[at] - before.values[at - 1]);
      const after = { times: put(before.times, time), values: put(before.values, value) };
      for (const i of differing(ratesOf(before), ratesOf(after), 1, at)) {
        // A block that grows too long ends early, and the next with it.
        assert.ok(Math.abs(i - at) <= 2 * REACH, `seed ${seed}: knot ${i} by ${at}`);
      }
    }
  });

  it("have no more than a millionth more jerk than if all were solved at once, and keep every piece monotone", () => {
    for (let seed = 0; seed < 30; seed++) {
      const all = data(200, seed);
      const { times, values } = all;
      const rates = ratesOf(all);
      const whole = { speed: new Float64Array(200), accel: new Float64Array(200) };
      settleWindow(times, values, whole);
      assert.ok(squaredJerk(all, rates) <= (1 + 1e-6) * squaredJerk(all, whole), `seed ${seed}`);
      const { speed, accel } = rates;
      for (let i = 0; i + 1 < times.length; i++) {
        const h = times[i + 1] - times[i];
        const rise = values[i + 1] - values[i];
        const inner = [speed[i] + (accel[i] * h) / 4, speed[i + 1] - (accel[i + 1] * h) / 4];
        const middle = (5 * rise) / h - speed[i] - speed[i + 1] - inner[0] - inner[1];
        for (const one of [speed[i], inner[0], middle, inner[1], speed[i + 1]]) {
          assert.ok(-1e-12 <= (one * h) / rise, `seed ${seed}, piece ${i}`);
        }
      }
    }
  });
});
