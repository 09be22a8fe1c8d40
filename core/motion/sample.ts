import type { Task } from "../base/task.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import type { Take } from "./take.ts";
import type { Trajectory } from "./trajectory.ts";

/** Most instants of one take: four hours at 60 frames a second. Beyond it frames are left out at the end. */
export const MOST_SAMPLES = 1_000_000;

/** Samples between two yields. */
const SLICE = 256;

/** Times [s] of every frame from 0 on, and of the end. Frame n is at n · den / num, exact to rounding. */
export function frameTimes(trajectory: { readonly duration: number; readonly move: ResolvedMove }): Float64Array {
  const { num, den } = trajectory.move.rate;
  const { duration } = trajectory;
  const times: number[] = [];
  for (let frame = 0; times.length < MOST_SAMPLES; frame++) {
    const t = (frame * den) / num;
    // A frame that ends the move but for rounding is the end.
    if (!(t < duration * (1 - 1e-15) - 1e-12)) break;
    times.push(t);
  }
  times.push(duration);
  return Float64Array.from(times);
}

/**
 * Samples a trajectory at `times` [s], ascending. Jerk steps at knots: it is taken from the right, at the end from the
 * left.
 */
export function* sampleTake(trajectory: Trajectory, times: ArrayLike<number>): Task<Take> {
  const n = times.length;
  const a = trajectory.axes.length;
  const m = trajectory.move.targets.length;
  const take = {
    count: n,
    t: Float64Array.from(times),
    value: new Float64Array(n * a),
    speed: new Float64Array(n * a),
    accel: new Float64Array(n * a),
    jerk: new Float64Array(n * a),
    position: new Float64Array(n * 3),
    rotation: new Float64Array(n * 4),
    focal: new Float64Array(n),
    focus: new Float64Array(n),
    share: new Float64Array(n),
    targets: new Float64Array(n * 3 * m),
    framing: new Float64Array(n * 2 * m),
    distance: new Float64Array(n * m),
    iris: new Float64Array(n),
    blur: new Float64Array(n * 2 * m),
    wanted: new Float64Array(n * 2),
    reached: new Float64Array(n * 2),
  };
  for (let i = 0; i < n; i++) {
    trajectory.writeRow(times[i], times[i] < trajectory.duration ? "right" : "left", take, i);
    if (i % SLICE === SLICE - 1) yield;
  }
  return take;
}
