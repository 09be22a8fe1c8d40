import { SAME_TIME } from "./same-time.ts";
import { easeShape } from "./ease-shape.ts";
import type { KeptWindows } from "./kept-windows.ts";
import { chooseKnotRates } from "./knot-rates.ts";
import { constantCurve, valueAt, type Piecewise } from "./piecewise.ts";
import { writeQuintic, type EndState } from "./quintic.ts";
import type { ResolvedEase } from "./resolved-move.ts";

/**
 * A value that a channel is to have at a time [s]. `rest`: it comes to rest there. `ease`: it comes from the knot or stop
 * before from rest to rest in this shape.
 */
export interface Knot {
  readonly time: number;
  readonly value: number;
  readonly rest: boolean;
  readonly ease?: ResolvedEase;
}

/** A time at which everything rests, or a stretch of it for which it stays [s]. */
export interface Stop {
  readonly from: number;
  readonly to: number;
}

export interface CurveEnds {
  /** Speed and acceleration at the first and last knot; at rest where absent. */
  readonly start?: { readonly speed: number; readonly accel: number };
  readonly end?: { readonly speed: number; readonly accel: number };
}

/** A way shorter than this [s] has no shape of its own. */
const LEAST_EASE = 1e-4;

/** Rates below this are rounding: it rests. */
const STILL = 1e-9;

/** Beyond this no figure means anything; keeps sums of coefficients finite. Pinned by `degenerate.test.ts`. */
const LARGEST = 1e12;

/**
 * The C2 piecewise quintic through `knots`: at rest at both ends and at knots with `rest`; monotone between neighbours
 * but where an ease overshoots; of least squared jerk among such curves. Before the first knot and after the last it holds.
 *
 * @param knots Ascending in time. One knot or none gives a constant (0 for none).
 * @param stops Ascending. A knot where a stop begins is held until it ends. Without one the channel rests at the value
 *              that it would pass through if nothing were held.
 * @param windows What earlier curves left; only the time depends on it.
 */
export function keyedCurve(
  knots: readonly Knot[],
  stops: readonly Stop[] = [],
  ends: CurveEnds = {},
  windows?: KeptWindows,
): Piecewise {
  const merged = restBeforeEases(mergeKnots(knots), ends);
  if (merged.length < 2 || stops.length === 0) return throughKnots(merged, ends, windows);
  return throughKnots(withStops(merged, stops, ends), ends, windows);
}

function mergeKnots(knots: readonly Knot[]): Knot[] {
  const merged: Knot[] = [];
  for (const knot of knots) {
    if (!Number.isFinite(knot.value) || !Number.isFinite(knot.time)) continue;
    const value = Math.min(Math.max(knot.value, -LARGEST), LARGEST);
    const before = merged[merged.length - 1];
    if (before !== undefined && knot.time - before.time <= SAME_TIME) {
      merged[merged.length - 1] = { ...knot, time: before.time, value, rest: knot.rest || before.rest };
    } else merged.push({ ...knot, value });
  }
  return merged;
}

/** An ease goes from rest to rest. Where a curve runs in or out with a speed there is no rest to ease from or to. */
function restBeforeEases(knots: readonly Knot[], ends: CurveEnds): Knot[] {
  const eases = knots.map((knot, i) => {
    const moves = (i === 1 && isMoving(ends.start)) || (i === knots.length - 1 && isMoving(ends.end));
    return 0 < i && !moves ? knot.ease : undefined;
  });
  return knots.map(({ time, value, rest }, i) => {
    const still = rest || eases[i] !== undefined || eases[i + 1] !== undefined;
    return eases[i] ? { time, value, rest: still, ease: eases[i] } : { time, value, rest: still };
  });
}

function isMoving(end: CurveEnds["start"]): boolean {
  return end !== undefined && STILL < Math.abs(end.speed) + Math.abs(end.accel);
}

/** The knots and those that stops add: the end of a held knot, and rests of a channel that has no knot there. */
function withStops(knots: readonly Knot[], stops: readonly Stop[], ends: CurveEnds): Knot[] {
  const [first, last] = [knots[0].time, knots[knots.length - 1].time];
  const isNear = (a: number, b: number): boolean => Math.abs(a - b) <= SAME_TIME;
  let passing: Piecewise | undefined;
  const added: Knot[] = [];
  const held = [...knots];
  for (const { from, to } of stops) {
    const own = knots.findIndex((knot) => isNear(knot.time, from));
    const inner = first < from && from < last;
    if (own < 0 && !inner) continue;
    if (0 <= own) held[own] = { ...held[own], rest: true };
    else passing ??= throughKnots(withoutHolds(knots, stops), ends);
    const value = 0 <= own ? knots[own].value : valueAt(passing!, heldOut(stops, from));
    if (own < 0) added.push({ time: from, value, rest: true });
    const taken = knots.some((knot) => from + SAME_TIME < knot.time && knot.time <= to + SAME_TIME);
    if (from + SAME_TIME < to && from < last && !taken) added.push({ time: to, value, rest: true });
  }
  return added.length === 0 ? held : [...held, ...added].sort((a, b) => a.time - b.time);
}

function withoutHolds(knots: readonly Knot[], stops: readonly Stop[]): Knot[] {
  return mergeKnots(knots.map((knot) => ({ ...knot, time: heldOut(stops, knot.time) })));
}

/** The time that is left of `time` when all that is held before it is taken out. */
function heldOut(stops: readonly Stop[], time: number): number {
  let left = time;
  for (const { from, to } of stops) left -= Math.max(0, Math.min(time, to) - from);
  return left;
}

function throughKnots(knots: readonly Knot[], ends: CurveEnds, windows?: KeptWindows): Piecewise {
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
  chooseKnotRates(times, values, fixed, rates, windows);
  const coefficients = new Float64Array(6 * last);
  const state = (i: number): EndState => ({ value: values[i], speed: rates.speed[i], accel: rates.accel[i] });
  for (let i = 0; i < last; i++) writeQuintic(state(i), state(i + 1), times[i + 1] - times[i], coefficients, 6 * i);
  return withEases({ degree: 5, times, coefficients }, knots);
}

/** Puts the shape of each ease in place of the piece that leads to its knot. */
function withEases(curve: Piecewise, knots: readonly Knot[]): Piecewise {
  if (knots.every((knot) => !knot.ease)) return curve;
  const times = [knots[0].time];
  const coefficients: number[] = [];
  knots.slice(1).forEach(({ time, value, ease }, i) => {
    const from = knots[i];
    const rise = value - from.value;
    if (!ease || rise === 0 || time - from.time < LEAST_EASE) {
      times.push(time);
      coefficients.push(...curve.coefficients.subarray(6 * i, 6 * i + 6));
      return;
    }
    const shape = easeShape(ease, time - from.time);
    // The last time is the knot's own, whatever rounding says.
    times.push(...Array.from(shape.times.subarray(1, -1), (t) => from.time + t), time);
    shape.coefficients.forEach((c, n) => coefficients.push((n % 6 === 0 ? from.value : 0) + rise * c));
  });
  return { degree: 5, times: Float64Array.from(times), coefficients: Float64Array.from(coefficients) };
}
