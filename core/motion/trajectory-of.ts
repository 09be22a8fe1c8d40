import { createEvaluateRoom, createInstant, evaluate } from "./evaluate.ts";
import { extremesOf } from "./extremes.ts";
import { outsideOf } from "./outside.ts";
import { createBreakRoom } from "./breakpoints.ts";
import { boundsAt } from "./derivative-bounds.ts";
import { intervalsOf } from "./interval.ts";
import type { MoveModel } from "./move-model.ts";
import type { Recall } from "./plan-record.ts";
import { sharePerLimit, writeRow } from "./sample-row.ts";
import type { Trajectory } from "./trajectory.ts";

/** The trajectory of a solved model, with the room that evaluating it needs. */
export function trajectoryOf(model: MoveModel, recall: Recall): Trajectory {
  const room = createEvaluateRoom(model);
  const perLimit = sharePerLimit(model.move);
  const intervals = intervalsOf(model, recall);
  const breaks = createBreakRoom(model, room.solve, intervals);
  const knots = Array.from(model.tracks.knots);
  return {
    move: model.move,
    axes: model.move.axes,
    sources: model.sources,
    duration: model.duration,
    knots: model.duration === 0 ? [0] : knots,
    keys: model.keys,
    paths: model.pathNotes,
    unset: model.unset,
    intervals,
    record: recall.record,
    createInstant: () => createInstant(model),
    writeRow: (t, side, take, row) => writeRow(model, room, perLimit, t, side, take, row),
    at: (t, out, side = "right") => evaluate(model, room, t, out, side),
    poseAt: (t, out, side = "right") => evaluate(model, room, t, out, side, false),
    extremes: (axis, order, from = 0, to = model.duration) => extremesOf(breaks, axis, order, from, to),
    bound: (interval, axis, order) => {
      const at = boundsAt(breaks, interval, model.root[axis], order);
      const { bounds } = intervals[interval];
      const size = Math.max(Math.abs(bounds[at]), Math.abs(bounds[at + 1]));
      // Nothing of an unbounded leader reaches a follower of ratio 0.
      return model.ratio[axis] === 0 ? 0 : Math.abs(model.ratio[axis]) * size;
    },
    outside: (axis, order, low, high) => outsideOf(breaks, axis, order, low, high),
  };
}
