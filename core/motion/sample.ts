import type { Task } from "../base/task.ts";
import type { MoveAxis, ResolvedMove } from "./resolved-move.ts";
import type { Take } from "./take.ts";
import type { Instant, Trajectory } from "./trajectory.ts";

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
  const instant = trajectory.createInstant();
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
    wanted: new Float64Array(n * 2),
  };
  for (let i = 0; i < n; i++) {
    trajectory.at(times[i], instant, times[i] < trajectory.duration ? "right" : "left");
    // Copied by hand: `set` costs more than these few numbers.
    for (let axis = 0; axis < a; axis++) {
      const at = i * a + axis;
      take.value[at] = instant.value[axis];
      take.speed[at] = instant.speed[axis];
      take.accel[at] = instant.accel[axis];
      take.jerk[at] = instant.jerk[axis];
    }
    copy(instant.position, take.position, 3 * i, 3);
    writeRotation(instant, take.rotation, i);
    take.focal[i] = instant.focal;
    take.focus[i] = instant.focus;
    take.share[i] = highestShare(trajectory.axes, instant);
    copy(instant.targets, take.targets, 3 * m * i, 3 * m);
    copy(instant.framing, take.framing, 2 * m * i, 2 * m);
    copy(instant.distance, take.distance, m * i, m);
    copy(instant.wanted, take.wanted, 2 * i, 2);
    if (i % SLICE === SLICE - 1) yield;
  }
  return take;
}

function copy(from: Float64Array, to: Float64Array, at: number, count: number): void {
  for (let k = 0; k < count; k++) to[at + k] = from[k];
}

/** The same turn has two quaternions; the one nearer to the sample before is taken. */
function writeRotation(instant: Instant, out: Float64Array, i: number): void {
  const at = 4 * i;
  let along = 0;
  for (let k = 0; k < 4; k++) along += i === 0 ? 0 : instant.rotation[k] * out[at - 4 + k];
  const sign = along < 0 ? -1 : 1;
  for (let k = 0; k < 4; k++) out[at + k] = sign * instant.rotation[k];
}

function highestShare(axes: readonly MoveAxis[], { speed, accel, jerk }: Instant): number {
  let share = 0;
  for (let i = 0; i < axes.length; i++) {
    const { limits } = axes[i];
    share = Math.max(
      share,
      shareOf(speed[i], limits.speed),
      shareOf(accel[i], limits.accel),
      shareOf(jerk[i], limits.jerk),
    );
  }
  return share;
}

function shareOf(value: number, limit: number | undefined): number {
  return limit !== undefined && 0 < limit ? Math.abs(value) / limit : 0;
}
