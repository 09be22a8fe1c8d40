import type { Task } from "../base/task.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import { subjectIndex } from "../motion/subject-index.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { againstFirst } from "./pass-variances.ts";
import { repeatAxes } from "./repeat-axes.ts";
import { createSensitivity } from "./sensitivity.ts";
import { quickRadiusOf } from "./spread.ts";
import { travelBack } from "./travel.ts";

/** How far passes of a move may be off its first pass in the picture, at instants of it. */
export interface PassErrors {
  /** Shape (n,) [s], as asked for. */
  readonly t: Float64Array;
  /** Shape (p,): which passes, counted from 1 as they are taken, as asked for. */
  readonly numbers: readonly number[];
  /**
   * Shape (p, n), row-major [captured px]: radius of the circle about where pass 1 shows what is aimed at that holds it in
   * pass `numbers[i]` in 95 of 100 takes. 0 for pass 1; NaN where nothing is aimed at or seen.
   */
  readonly radius: Float64Array;
}

/** Instants between two yields. */
const SLICE = 256;

/** [m/s], [rad/s] Slower than this an axis counts as at rest. */
const AT_REST = 1e-9;

/**
 * How far passes may be off the first, over time: what the check `match` tells the worst instant of. To first order in the
 * errors that the rig's axes state; to 3e-5 of itself. Passes with targets off their places count as moving like the others.
 *
 * @param times   Ascending [s].
 * @param numbers Passes, counted from 1 as they are taken; for one a kind see `passNumbers`.
 * @returns `undefined` for a rig that states nothing of how it repeats.
 */
export function* passErrors(
  trajectory: Trajectory,
  times: Float64Array,
  numbers: readonly number[],
): Task<PassErrors | undefined> {
  const { move } = trajectory;
  const axes = repeatAxes(move);
  if (axes.length === 0) return undefined;
  const ways = axes.map(({ axis, slip }) => (slip > 0 ? wayOf(trajectory, axis) : 0));
  yield;
  const variances = numbers.map((number) => againstFirst(axes, ways, number));
  const sensitivity = createSensitivity(
    move,
    axes.map(({ axis }) => axis),
  );
  const instant = trajectory.createInstant();
  const columns = new Float64Array(2 * axes.length);
  const count = times.length;
  const radius = new Float64Array(numbers.length * count).fill(NaN);
  for (let n = 0; n < count; n++) {
    if (n % SLICE === SLICE - 1) yield;
    trajectory.poseAt(times[n], instant);
    const target = subjectIndex(instant);
    if (target < 0 || !sensitivity(instant, target, columns)) continue;
    variances.forEach((each, p) => (radius[p * count + n] = quickRadiusOf(columns, 0, each)));
  }
  return { t: times, numbers, radius };
}

/** Each kind of pass of a move with the first and the last number that it is taken as: the last is the farthest off. */
export function passNumbers({ passes }: Pick<ResolvedMove, "passes">): { first: number; last: number }[] {
  let taken = 0;
  return passes.map(({ times }) => {
    const first = taken + 1;
    taken += times;
    return { first, last: taken };
  });
}

/** What an axis travels in one pass, the way back included [m or rad]: it goes one way in each span of its motion. */
function wayOf(trajectory: Trajectory, axis: number): number {
  const instant = trajectory.createInstant();
  const valueAt = (t: number): number => {
    trajectory.poseAt(t, instant);
    return instant.value[axis];
  };
  const spans = trajectory.outside(axis, 1, -AT_REST, AT_REST);
  const inTake = spans.reduce((sum, { from, to }) => sum + Math.abs(valueAt(to) - valueAt(from)), 0);
  return inTake + travelBack(trajectory, axis, inTake);
}
