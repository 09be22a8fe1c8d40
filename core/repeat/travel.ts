import type { Trajectory } from "../motion/trajectory.ts";
import { endsAsBegun } from "../motion/way-back.ts";

/**
 * How far an axis travels from `from` to `to` [s] within one interval of a take, to and fro [m or rad]. Exact where it turns
 * back twice at most, as keyed axes do; of one that turns more often only the largest swing counts.
 *
 * @param first, last Its values at both times.
 */
export function travelIn(
  trajectory: Trajectory,
  axis: number,
  from: number,
  to: number,
  first: number,
  last: number,
): number {
  const { low, high } = trajectory.extremes(axis, 0, from, to);
  const [one, other] = low.t < high.t ? [low.value, high.value] : [high.value, low.value];
  return Math.abs(one - first) + Math.abs(other - one) + Math.abs(last - other);
}

/** How far an axis travels in a whole take [m or rad]. */
export function travelInTake(trajectory: Trajectory, axis: number): number {
  const instant = trajectory.createInstant();
  const values = trajectory.knots.map((t) => {
    trajectory.poseAt(t, instant);
    return instant.value[axis];
  });
  const { knots } = trajectory;
  return knots
    .slice(1)
    .reduce((sum, to, k) => sum + travelIn(trajectory, axis, knots[k], to, values[k], values[k + 1]), 0);
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
