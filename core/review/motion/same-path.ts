import type { Task } from "../../base/task.ts";
import type { Instant, Trajectory } from "../../motion/trajectory.ts";
import type { SameThings } from "../match-names.ts";

/** Instants that are looked at within each interval between two knots, its ends aside. */
const WITHIN = 3;

/** Most instants that are looked at. */
const MOST = 4_000;

/** Instants between two yields. */
const SLICE = 128;

/**
 * Whether two trajectories go the same way in the same time: axes, pupil, view, lens and the targets that both have, each
 * within `tolerance` [m, rad, s; a share of what is imaged for the view; of its value for the lens].
 */
export function* isSamePath(
  before: Trajectory,
  after: Trajectory,
  { axes }: SameThings,
  tolerance: number,
): Task<boolean> {
  if (!near(before.duration, after.duration, tolerance)) return false;
  const moving = (trajectory: Trajectory, axis: number): boolean => trajectory.sources[axis] !== "constant";
  const lone = (trajectory: Trajectory, side: 0 | 1): boolean =>
    trajectory.axes.some((_, axis) => moving(trajectory, axis) && !axes.some((pair) => pair[side] === axis));
  if (lone(before, 0) || lone(after, 1)) return false;
  const [was, is] = [before.createInstant(), after.createInstant()];
  const times = timesOf(before, after);
  for (let i = 0; i < times.length; i++) {
    before.poseAt(Math.min(times[i], before.duration), was);
    after.poseAt(Math.min(times[i], after.duration), is);
    if (!isSameInstant(was, is, axes, tolerance)) return false;
    if (i % SLICE === SLICE - 1) yield;
  }
  return true;
}

/** Knots of both, and instants between them. */
function timesOf(before: Trajectory, after: Trajectory): number[] {
  const knots = [...new Set([...before.knots, ...after.knots])].sort((a, b) => a - b);
  const stride = Math.max(1, Math.ceil((knots.length * (WITHIN + 1)) / MOST));
  const kept = knots.filter((_, idx) => idx % stride === 0 || idx === knots.length - 1);
  return kept.flatMap((knot, idx) => {
    const next = kept[idx + 1];
    if (next === undefined) return [knot];
    return Array.from({ length: WITHIN + 1 }, (_, k) => knot + ((next - knot) * k) / (WITHIN + 1));
  });
}

function isSameInstant(was: Instant, is: Instant, axes: SameThings["axes"], tolerance: number): boolean {
  if (!axes.every(([a, b]) => near(was.value[a], is.value[b], tolerance))) return false;
  for (let k = 0; k < 3; k++) if (!near(was.position[k], is.position[k], tolerance)) return false;
  if (turnBetween(was.rotation, is.rotation) > tolerance) return false;
  const lens = near(was.focal, is.focal, tolerance) && near(was.iris, is.iris, tolerance);
  return lens && near(was.focus, is.focus, tolerance);
}

/** Lengths and angles by their difference, what is large by its share. NaN, as of a focus that nothing gives, equals NaN. */
function near(a: number, b: number, tolerance: number): boolean {
  return Object.is(a, b) || Math.abs(a - b) <= tolerance * Math.max(1, Math.abs(a));
}

/** Angle between two turns, of which a quaternion and its negative are one [rad]. */
function turnBetween(a: Float64Array, b: Float64Array): number {
  const minus = Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2], a[3] - b[3]);
  const plus = Math.hypot(a[0] + b[0], a[1] + b[1], a[2] + b[2], a[3] + b[3]);
  return 2 * Math.min(minus, plus);
}
