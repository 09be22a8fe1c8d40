import type { Instant, Side, Trajectory } from "../motion/trajectory.ts";

/** Two motions of the same rig and set, with room for an instant of each. */
export interface InstantPair {
  readonly one: Trajectory;
  readonly other: Trajectory;
  readonly a: Instant;
  readonly b: Instant;
}

export function createInstantPair(one: Trajectory, other: Trajectory): InstantPair {
  return { one, other, a: one.createInstant(), b: other.createInstant() };
}

/**
 * How far two motions are apart at time `t` [s]: the largest difference of an axis, of the pupil's place, of the camera's
 * turn or of the lens [m, rad, 1]; Infinity where they have not the same axes.
 */
export function differenceAt(pair: InstantPair, t: number): number {
  return differenceBetween(pair, t, undefined, t, undefined);
}

/** The same between time `t` of one, seen from a side, and time `u` of the other [s]. */
export function differenceBetween(
  { one, other, a, b }: InstantPair,
  t: number,
  side: Side | undefined,
  u: number,
  otherSide: Side | undefined,
): number {
  if (one.axes.length !== other.axes.length) return Infinity;
  one.poseAt(t, a, side);
  other.poseAt(u, b, otherSide);
  let most = 0;
  const look = (x: number, y: number): void => {
    if (Number.isNaN(x) && Number.isNaN(y)) return;
    const off = Math.abs(x - y);
    if (!(off <= most)) most = Number.isNaN(off) ? Infinity : off;
  };
  a.value.forEach((value, axis) => look(value, b.value[axis]));
  a.position.forEach((value, i) => look(value, b.position[i]));
  // The same turn has two quaternions.
  const sign = a.rotation.reduce((sum, value, i) => sum + value * b.rotation[i], 0) < 0 ? -1 : 1;
  a.rotation.forEach((value, i) => look(2 * value, 2 * sign * b.rotation[i]));
  look(a.focal, b.focal);
  look(a.iris, b.iris);
  if (a.focus !== b.focus) look(a.focus, b.focus);
  return most;
}
