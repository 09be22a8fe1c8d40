import { aimAxes } from "../rig/aim-axes.ts";
import { aimProblem, type AimProblem } from "./aim-problem.ts";
import { aimStretches, lastMoment, levelMoments, levelStretches } from "./aim-timeline.ts";
import type { Descent } from "./descent.ts";
import { joinCurves } from "./join-curves.ts";
import type { KeyTiming } from "./key-timing.ts";
import type { AimSpan, TrackList } from "./move-model.ts";
import { constantCurve, type Piecewise } from "./piecewise.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { switchCurve } from "./switch-curve.ts";

export interface LaidAim {
  readonly spans: readonly AimSpan[];
  /** Single instants that an aim or a level horizon holds at, as spans without length: their values become knots. */
  readonly moments: readonly AimSpan[];
}

/** Spans of the aim, cut where the target, the switch or the rule for the horizon changes. */
export function layAim(
  move: ResolvedMove,
  descent: Descent,
  duration: number,
  timing: KeyTiming,
  tracks: TrackList,
): LaidAim {
  const problemFor = problemsOf(move, descent);
  const hasHead = move.rig.head !== undefined;
  const levels = hasHead && problemFor(0, true) ? levelStretches(move.keys, duration) : [];
  const track = tracks.add(constantCurve(0));
  const switches: Piecewise[] = [];
  const spans = aimStretches(move.keys, duration, timing).flatMap((stretch) => {
    const { start, end, fromTarget, toTarget } = stretch;
    const share = fromTarget === toTarget ? -1 : track;
    if (0 <= share) switches.push(switchCurve(stretch, timing));
    const cuts = levels.flatMap((level) => [level.start, level.end]).filter((time) => start < time && time < end);
    const times = [start, ...cuts.sort((a, b) => a - b), end];
    return times.slice(1).map((stop, i): AimSpan => {
      const middle = (times[i] + stop) / 2;
      const level = levels.some((one) => one.start <= middle && middle <= one.end);
      const targets = fromTarget < 0 ? 0 : fromTarget === toTarget ? 1 : 2;
      return { start: times[i], end: stop, fromTarget, toTarget, share, problem: problemFor(targets, level) };
    });
  });
  tracks.curves[track] = joinCurves(switches);
  const moments: AimSpan[] = levelMoments(move.keys, levels).flatMap((time) => {
    const holder = spans.find((span) => time <= span.end);
    const targets = !holder || holder.fromTarget < 0 ? 0 : holder.share < 0 ? 1 : 2;
    const problem = hasHead ? problemFor(targets, true) : undefined;
    return holder && problem?.level ? [{ ...holder, start: time, end: time, problem }] : [];
  });
  const last = 0 < duration ? lastMoment(move.keys) : undefined;
  const problem =
    last &&
    problemFor(
      1,
      levels.some((level) => level.end === duration),
    );
  if (last && problem) {
    moments.push({
      start: duration,
      end: duration,
      fromTarget: last.target,
      toTarget: last.target,
      share: -1,
      problem,
    });
  }
  return { spans, moments };
}

/**
 * The equations by number of targets and by whether the horizon is kept. With a head, pan and tilt answer to the framing
 * and roll to the horizon; without one the last turning axes answer to both. Axes that the take does not move are out.
 */
function problemsOf(
  move: ResolvedMove,
  descent: Descent,
): (targets: 0 | 1 | 2, level: boolean) => AimProblem | undefined {
  const indexOf = (joint: number): number => move.axes.findIndex((axis) => axis.joint === joint);
  const moving = (joints: readonly number[]): number[] =>
    joints.map(indexOf).filter((index) => 0 <= index && descent.axis.includes(index));
  const joints = aimAxes(move.rig);
  const hasHead = move.rig.head !== undefined;
  const sight = moving(hasHead ? joints.slice(0, 2) : joints);
  const roll = hasHead ? moving(joints.slice(2)) : [];
  const known = new Map<string, AimProblem>();
  return (targets, level) => {
    const horizon = hasHead ? level && 0 < roll.length : sight.length === 3;
    const unknown = [...(0 < targets ? sight : []), ...(hasHead && horizon ? roll : [])];
    const name = `${targets} ${horizon}`;
    if (unknown.length === 0) return undefined;
    if (!known.has(name)) known.set(name, aimProblem(descent, unknown, targets, horizon));
    return known.get(name);
  };
}
