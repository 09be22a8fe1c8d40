import type { RepeatAxis } from "./repeat-axes.ts";

/**
 * Variance of each axis in pass n against pass 1 at the same instant: both draw σ² anew, and every pass between lets the
 * axis slip by its share of the way: 2σ² + (n - 1) (slip · L)². Backlash is none of it: both passes come to each value
 * from the same side, after the same motion, so half of it stands in both with the same sign. The first pass counts as run
 * up to like all others, from a rehearsal and the way back, and passes with targets off their places as moving like the
 * others: only which way an axis turns back may differ, near where it rests.
 *
 * @param ways Shape (k,): L, what each axis travels in one pass, the way back included [m or rad].
 * @param n    1 or more; pass 1 against itself is 0.
 * @returns Shape (k,) [m² or rad²].
 */
export function againstFirst(axes: readonly RepeatAxis[], ways: ArrayLike<number>, n: number): Float64Array {
  if (n < 2) return new Float64Array(axes.length);
  return Float64Array.from(axes, ({ sigma, slip }, k) => 2 * sigma ** 2 + (n - 1) * (slip * ways[k]) ** 2);
}

/**
 * Variance of each axis in pass n against what is drawn: its own draw, and what it has slipped since the rig was measured
 * in before pass 1. Here backlash counts too, by half of it to the side that the axis comes from: see `approachOf`.
 */
export function againstPlan(axes: readonly RepeatAxis[], ways: ArrayLike<number>, n: number): Float64Array {
  return Float64Array.from(axes, ({ sigma, slip }, k) => sigma ** 2 + (n - 1) * (slip * ways[k]) ** 2);
}
