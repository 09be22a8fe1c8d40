import { keyedCurve } from "./keyed-curve.ts";
import type { TrackList } from "./move-model.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import type { TargetCourse } from "./target-series.ts";

/** How each target moves; paths of their own become three tracks each, C2 and monotone between their own points. */
export function targetCourses(move: ResolvedMove, tracks: TrackList): TargetCourse[] {
  return move.targets.map((target) => {
    const table = target.on === undefined ? undefined : move.turntables[target.on];
    const follow = target.follow ?? [];
    let path = -1;
    if (0 < follow.length) {
      for (const axis of [0, 1, 2] as const) {
        const knots = follow.map((point) => ({ time: point.time, value: point.to[axis], rest: false }));
        const track = tracks.add(keyedCurve(knots));
        if (axis === 0) path = track;
      }
    }
    return {
      at: target.at,
      path,
      angle: table ? move.axes.findIndex((axis) => axis.turntable === target.on) : -1,
      centre: table?.at ?? [0, 0, 0],
      along: table?.along ?? [0, 0, 1],
    };
  });
}
