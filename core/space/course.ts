import type { Side, Trajectory } from "../motion/trajectory.ts";
import type { Placed } from "./space.ts";

/** How all axes of a move go over time: all that distances between samples are proven from. */
export interface Course {
  /** Ends of the intervals, ascending [s]; within an interval the values of the axes are smooth. */
  readonly knots: readonly number[];
  /** Writes values, focal length and focus at time `t`, at a knot those of `side`. */
  writeAt(t: number, side: Side, out: Pick<Placed, "t" | "values" | "focal" | "focus">): void;
  /** A size that speed (1) or acceleration (2) of an axis does not pass within an interval; Infinity when there is none. */
  bound(interval: number, axis: number, order: 1 | 2): number;
}

/** The course of a planned move. A move of a single instant has one interval without length. */
export function courseOf(trajectory: Trajectory): Course {
  const instant = trajectory.createInstant();
  const { knots, duration } = trajectory;
  return {
    knots: knots.length < 2 ? [0, duration] : knots,
    writeAt(t, side, out) {
      trajectory.poseAt(t, instant, side);
      out.t = t;
      out.values.set(instant.value);
      out.focal = instant.focal;
      out.focus = instant.focus;
    },
    bound: (interval, axis, order) => trajectory.bound(interval, axis, order),
  };
}
