import { firstWhere } from "./bisect.ts";

/**
 * Index i of the sample at or before `t`, such that i + 1 is a sample too (0 when there are fewer than two). Of equal
 * times, as where jerk steps, the later ones count.
 *
 * @param times Ascending, n of them.
 */
export function sampleBefore(times: Float64Array, t: number): number {
  let low = 0;
  let high = times.length - 1;
  while (low + 1 < high) {
    const middle = (low + high) >> 1;
    if (times[middle] <= t) low = middle;
    else high = middle;
  }
  return Math.max(0, Math.min(low, times.length - 2));
}

/** Share of the way from sample `i` to the next at `t`, 0..1. */
export function shareOfWay(times: Float64Array, i: number, t: number): number {
  const span = times[i + 1] - times[i];
  if (!(span > 0)) return times.length > 1 ? 1 : 0;
  return Math.min(Math.max(0, (t - times[i]) / span), 1);
}

/** Straight line between two numbers of a table; where one is no number, the nearer of the two. */
export function between(a: number, b: number, share: number): number {
  if (share <= 0) return a;
  if (share >= 1) return b;
  const mixed = a + (b - a) * share;
  return Number.isFinite(mixed) ? mixed : share < 0.5 ? a : b;
}

/**
 * Value between two samples whose values and speeds are known: the cubic through both, exact to the fourth order of the
 * samples' distance `span` [s].
 */
export function throughBoth(a: number, speedA: number, b: number, speedB: number, span: number, share: number): number {
  const s = share;
  const curved =
    (1 + 2 * s) * (1 - s) * (1 - s) * a +
    s * (1 - s) * (1 - s) * span * speedA +
    s * s * (3 - 2 * s) * b -
    s * s * (1 - s) * span * speedB;
  return Number.isFinite(curved) ? curved : between(a, b, share);
}

/** Index of the first sample at `time` or later; n when there is none. */
export function firstFrom(times: Float64Array, time: number, low = 0): number {
  return firstWhere(low, times.length, (idx) => times[idx] >= time);
}
