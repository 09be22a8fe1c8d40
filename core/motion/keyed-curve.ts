import { chooseKnotRates } from "./knot-rates.ts";
import { constantCurve, valueAt, type Piecewise } from "./piecewise.ts";
import { writeQuintic, type EndState } from "./quintic.ts";

/** A value that a channel is to have at a time [s]. `rest`: it comes to rest there. */
export interface Knot {
  readonly time: number;
  readonly value: number;
  readonly rest: boolean;
}

export interface CurveEnds {
  /** Speed and acceleration at the first and last knot; at rest where absent. */
  readonly start?: { readonly speed: number; readonly accel: number };
  readonly end?: { readonly speed: number; readonly accel: number };
}

/** Knots nearer than this in time [s] are one, with the later value: no clock of a rig tells them apart. */
const SAME_TIME = 1e-9;

/** Beyond this no figure means anything; keeps sums of coefficients finite. Pinned by `degenerate.test.ts`. */
const LARGEST = 1e12;

/**
 * The C2 piecewise quintic through `knots`: at rest at both ends and at knots with `rest`; monotone between neighbours;
 * of least squared jerk among such curves. Before the first knot and after the last it holds.
 *
 * @param knots Ascending in time. One knot or none gives a constant (0 for none).
 * @param stops Times [s] at which the channel rests although it has no knot there; its value there is the one that it
 *              would pass through without the stop.
 */
export function keyedCurve(knots: readonly Knot[], stops: readonly number[] = [], ends: CurveEnds = {}): Piecewise {
  const merged = mergeKnots(knots);
  const curve = throughKnots(merged, ends);
  if (merged.length < 2) return curve;
  const [first, last] = [merged[0].time, merged[merged.length - 1].time];
  const added = stops.filter(
    (time) => first < time && time < last && !merged.some((knot) => Math.abs(knot.time - time) <= SAME_TIME),
  );
  if (added.length === 0) return curve;
  const resting = added.map((time) => ({ time, value: valueAt(curve, time), rest: true }));
  return throughKnots(mergeKnots([...merged, ...resting].sort((a, b) => a.time - b.time)), ends);
}

function mergeKnots(knots: readonly Knot[]): Knot[] {
  const merged: Knot[] = [];
  for (const knot of knots) {
    if (!Number.isFinite(knot.value) || !Number.isFinite(knot.time)) continue;
    const value = Math.min(Math.max(knot.value, -LARGEST), LARGEST);
    const before = merged[merged.length - 1];
    if (before !== undefined && knot.time - before.time <= SAME_TIME) {
      merged[merged.length - 1] = { time: before.time, value, rest: knot.rest || before.rest };
    } else merged.push({ time: knot.time, value, rest: knot.rest });
  }
  return merged;
}

function throughKnots(knots: readonly Knot[], ends: CurveEnds): Piecewise {
  if (knots.length === 0) return constantCurve(0);
  const moves = ends.start !== undefined || ends.end !== undefined;
  if (knots.length === 1 || (!moves && knots.every((knot) => knot.value === knots[0].value))) {
    return constantCurve(knots[0].value);
  }
  const last = knots.length - 1;
  const times = Float64Array.from(knots, (knot) => knot.time);
  const values = Float64Array.from(knots, (knot) => knot.value);
  const rates = { speed: new Float64Array(knots.length), accel: new Float64Array(knots.length) };
  if (ends.start) [rates.speed[0], rates.accel[0]] = [ends.start.speed, ends.start.accel];
  if (ends.end) [rates.speed[last], rates.accel[last]] = [ends.end.speed, ends.end.accel];
  const fixed = knots.map((knot, i) => knot.rest || i === 0 || i === last);
  chooseKnotRates(times, values, fixed, rates);
  const coefficients = new Float64Array(6 * last);
  const state = (i: number): EndState => ({ value: values[i], speed: rates.speed[i], accel: rates.accel[i] });
  for (let i = 0; i < last; i++) writeQuintic(state(i), state(i + 1), times[i + 1] - times[i], coefficients, 6 * i);
  return { degree: 5, times, coefficients };
}
