import type { Task } from "../base/task.ts";
import type { MoveAxis } from "../motion/resolved-move.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import type { ResolvedRig } from "../rig/resolved-rig.ts";

type Power = NonNullable<ResolvedRig["power"]>;

/** [m/s], [rad/s] What is left of a speed of 0 after the arithmetic of a solved axis. Pinned by energy.test.ts. */
const REST_SPEED = 1e-9;

/** How long a motion takes, and for how much of it each axis moves. */
export interface MotionTimes {
  /** [s] */
  readonly duration: number;
  /** Time for which the axis is not at rest, by axis index, shape (n_axes,) [s]. */
  readonly moving: Float64Array;
}

/**
 * The times for which the axes of a trajectory move. Between two knots an axis rests throughout or is at rest at single
 * instants only, so the times are exact.
 */
export function* motionTimes(trajectory: Trajectory): Task<MotionTimes> {
  const { knots, duration, axes } = trajectory;
  const moving = new Float64Array(axes.length);
  const instant = trajectory.createInstant();
  for (let k = 0; k + 1 < knots.length; k++) {
    const [from, to] = [knots[k], knots[k + 1]];
    trajectory.at((from + to) / 2, instant);
    for (let axis = 0; axis < axes.length; axis++) {
      const isMoving = REST_SPEED < Math.abs(instant.speed[axis]) || movesWithin(trajectory, axis, from, to);
      if (isMoving) moving[axis] += to - from;
    }
    if (k % 64 === 63) yield;
  }
  return { duration, moving };
}

function movesWithin(trajectory: Trajectory, axis: number, from: number, to: number): boolean {
  const { low, high } = trajectory.extremes(axis, 1, from, to);
  return REST_SPEED < high.value || low.value < -REST_SPEED;
}

/** Energy [J] of a motion: what the rig draws at rest all the time, and each axis on top while it moves. */
export function motionEnergy(power: Power, axes: readonly MoveAxis[], { duration, moving }: MotionTimes): number {
  let energy = power.idle * duration;
  axes.forEach(({ name, joint }, axis) => {
    // A turntable is no part of the rig, even if it is called like an axis of it.
    if (0 <= joint && Object.hasOwn(power.axes, name)) energy += power.axes[name] * moving[axis];
  });
  return energy;
}

/** Energy [J] of a battery that is used before it is changed. */
export const usableEnergy = ({ battery, usable }: Pick<Power, "battery" | "usable">): number => battery * usable;

/**
 * How long an energy lasts at a mean draw [s].
 *
 * @param energy [J]
 * @param draw   [W], >= 0. `Infinity` seconds at 0.
 */
export const lastsFor = (energy: number, draw: number): number => (0 < draw ? energy / draw : Infinity);
