import { aimAxes } from "../rig/aim-axes.ts";
import { aimProblem, type AimProblem } from "./aim-problem.ts";
import { aimStretches, levelStretches } from "./aim-timeline.ts";
import type { Descent } from "./descent.ts";
import { keyedCurve } from "./keyed-curve.ts";
import type { AimSpan, TrackList } from "./move-model.ts";
import type { ResolvedMove } from "./resolved-move.ts";

/** Spans of the aim, cut where the target, the switch or the rule for the horizon changes. */
export function layAim(
  move: ResolvedMove,
  descent: Descent,
  duration: number,
  stops: readonly number[],
  tracks: TrackList,
): AimSpan[] {
  const joints = aimAxes(move.rig);
  const axes = joints
    .map((joint) => move.axes.findIndex((axis) => axis.joint === joint))
    .filter((index) => 0 <= index && descent.axis.includes(index));
  const hasHead = move.rig.head !== undefined;
  const levels = hasHead && axes.length === 3 ? levelStretches(move.keys, duration) : [];
  const problems = new Map<string, AimProblem>();
  const problemFor = (targets: 0 | 1 | 2, level: boolean): AimProblem | undefined => {
    const unknown = 0 < targets ? (hasHead && !level ? axes.slice(0, 2) : axes) : level ? axes.slice(2) : [];
    if (unknown.length === 0) return undefined;
    const name = `${targets} ${level}`;
    const known = problems.get(name) ?? aimProblem(descent, unknown, targets, level && unknown.length !== 2);
    problems.set(name, known);
    return known;
  };
  return aimStretches(move.keys, duration).flatMap(({ start, end, fromTarget, toTarget }) => {
    const share =
      fromTarget === toTarget
        ? -1
        : tracks.add(
            keyedCurve(
              [
                { time: start, value: 0, rest: true },
                { time: end, value: 1, rest: true },
              ],
              stops,
            ),
          );
    const cuts = levels.flatMap((level) => [level.start, level.end]).filter((time) => start < time && time < end);
    const times = [start, ...cuts.sort((a, b) => a - b), end];
    return times.slice(1).map((stop, i): AimSpan => {
      const from = times[i];
      const middle = (from + stop) / 2;
      const level = hasHead ? levels.some((one) => one.start <= middle && middle <= one.end) : axes.length === 3;
      const targets = fromTarget < 0 ? 0 : fromTarget === toTarget ? 1 : 2;
      const problem = targets === 0 && !hasHead ? undefined : problemFor(targets, level);
      return { start: from, end: stop, fromTarget, toTarget, share, problem };
    });
  });
}
