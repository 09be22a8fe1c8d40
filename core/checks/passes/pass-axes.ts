import type { Task } from "../../base/task.ts";
import { repeatAxes, type RepeatAxis } from "../../repeat/repeat-axes.ts";
import { travelBack, travelIn } from "../../repeat/travel.ts";
import type { CheckContext } from "../check.ts";

/** What of a rig and a set repeats with an error, and how far each travels in one pass. */
export interface PassAxes {
  readonly axes: readonly RepeatAxis[];
  /** The way back included [m or rad], shape (k,); 0 for an axis that does not slip. */
  readonly ways: Float64Array;
}

/** How far each axis travels in one interval, shape (k,). */
type Travels = Float64Array;

/** The axes of a move that state how well they repeat; what was seen of intervals before an edit is not looked at again. */
export function* passAxes({ move, trajectory, seen }: CheckContext): Task<PassAxes> {
  const axes = repeatAxes(move);
  const ways = new Float64Array(axes.length);
  const slips = axes.flatMap(({ slip }, k) => (slip > 0 ? [k] : []));
  if (slips.length === 0) return { axes, ways };
  const known = seen.table<Travels>("travels of axes that slip");
  const { knots, intervals } = trajectory;
  const instant = trajectory.createInstant();
  for (let i = 0; i + 1 < knots.length; i++) {
    let travels = known.get(intervals[i]);
    if (travels?.length !== axes.length) {
      const [from, to] = [knots[i], knots[i + 1]];
      const ends = [from, to].map((t) => {
        trajectory.poseAt(t, instant);
        return axes.map(({ axis }) => instant.value[axis]);
      });
      travels = new Float64Array(axes.length);
      for (const k of slips) travels[k] = travelIn(trajectory, axes[k].axis, from, to, ends[0][k], ends[1][k]);
      known.set(intervals[i], travels);
      if (i % 64 === 63) yield;
    }
    for (const k of slips) ways[k] += travels[k];
  }
  for (const k of slips) ways[k] += travelBack(trajectory, axes[k].axis, ways[k]);
  return { axes, ways };
}
