import type { Trajectory } from "../motion/trajectory.ts";
import { endsAsBegun } from "../motion/way-back.ts";

/**
 * How far something travels along `values` at equal steps of time, to and fro: where it turns back between them, as far as a
 * parabola through the three values around goes.
 */
export function travelAlong(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 1; i < values.length; i++) {
    sum += Math.abs(values[i] - values[i - 1]);
    if (i + 1 === values.length) break;
    const [before, after] = [values[i - 1] - values[i], values[i + 1] - values[i]];
    // Two equal values lie on both sides of a turn where both of their neighbours are on one side of them.
    const isTurn = 0 < before * after || (after === 0 && 0 < before * (values[i + 2] - values[i + 1]));
    if (!isTurn) continue;
    // The vertex is b²/4a beyond the value in the middle, with b half the difference and a half the sum of both steps.
    sum += (2 * ((after - before) / 2) ** 2) / (2 * Math.abs(before + after));
  }
  return sum;
}

/**
 * How far an axis travels on the way back to the first key [m or rad]: what it travelled in the take, where the rig goes
 * the way it came; from the end through what `return` says to the start, where it goes another. What is set anew by hand
 * travels nothing.
 *
 * @param inTake How far it travels in the take.
 */
export function travelBack(trajectory: Trajectory, axis: number, inTake: number): number {
  const { wayBack } = trajectory.move;
  if (wayBack?.kind === "none") return 0;
  if (wayBack?.kind === "direct") {
    const stops = stopsBack(trajectory, axis);
    return stops.slice(1).reduce((sum, value, i) => sum + Math.abs(value - stops[i]), 0);
  }
  return wayBack || !endsAsBegun(trajectory) ? inTake : 0;
}

/** Between which values an axis goes on a way back of its own: axes go by themselves there, and never overshoot between two. */
export function stopsBack(trajectory: Trajectory, axis: number): readonly number[] {
  const { wayBack } = trajectory.move;
  const { root, ratio, offset } = leaderOf(trajectory, axis);
  const via = wayBack?.kind === "direct" ? wayBack.via : [];
  const given = via.flatMap(({ axes }) => axes.filter((each) => each.axis === root));
  const [start, end] = endValues(trajectory, axis);
  return [end, ...given.map(({ value }) => ratio * value + offset), start];
}

function endValues(trajectory: Trajectory, axis: number): readonly [number, number] {
  const instant = trajectory.createInstant();
  trajectory.poseAt(0, instant);
  const start = instant.value[axis];
  trajectory.poseAt(trajectory.duration, instant);
  return [start, instant.value[axis]];
}

/** The axis that an axis follows in the end, itself where it follows none: value = ratio · root + offset. */
function leaderOf({ move }: Pick<Trajectory, "move">, axis: number): { root: number; ratio: number; offset: number } {
  const follows = move.rig.joints[move.axes[axis].joint]?.follows;
  const leader = follows ? move.axes.findIndex(({ joint }) => joint === follows.leader) : -1;
  if (!follows || leader < 0) return { root: axis, ratio: 1, offset: 0 };
  const above = leaderOf({ move }, leader);
  return {
    root: above.root,
    ratio: follows.ratio * above.ratio,
    offset: follows.ratio * above.offset + follows.offset,
  };
}
