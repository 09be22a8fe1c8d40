import { baseFrame, compileRig, fillFollowers, type Chain } from "../rig/chain.ts";
import { aimAxes } from "../rig/aim-axes.ts";
import { aimProblem, type AimProblem } from "./aim-problem.ts";
import { aimStretches, levelStretches } from "./aim-timeline.ts";
import { compileDescent, type Descent } from "./descent.ts";
import { focusSpans } from "./focus-spans.ts";
import { keyedCurve, type Knot } from "./keyed-curve.ts";
import { trackList, type AimSpan, type MoveModel, type TrackList } from "./move-model.ts";
import { constantCurve } from "./piecewise.ts";
import { pupilLines, pupilTimes } from "./pupil-lines.ts";
import type { MoveAxis, ResolvedMove } from "./resolved-move.ts";
import { targetCourses } from "./target-courses.ts";
import { layTracks } from "./tracks.ts";
import type { AxisSource, KeyStatus } from "./trajectory.ts";

/** A model whose spans are not solved yet, and what is still needed for that. */
export interface BuiltModel {
  readonly model: MoveModel;
  /** Knots by axis: keyed values and those of camera keys. */
  readonly keyed: readonly (readonly Knot[])[];
  /** Times of keys at which everything rests [s]. */
  readonly stops: readonly number[];
}

/** Binds a move to its chain and lays every curve that does not wait for a solution. */
export function buildModel(move: ResolvedMove): BuiltModel {
  const chain = compileRig(move.rig);
  const duration = Math.max(0, move.keys.length === 0 ? 0 : move.keys[move.keys.length - 1].time);
  const stops = move.keys.filter((key) => key.stop).map((key) => key.time);
  const rest = restValues(move);
  const keyed = move.axes.map((axis, index) => knotsOf(move, axis, index));
  const tracks = trackList();
  move.axes.forEach((_, index) => {
    const knots = keyed[index];
    tracks.add(knots.length === 0 ? constantCurve(rest[index]) : keyedCurve(knots, stops));
  });
  const lens = layLens(move, stops, tracks);
  const targets = targetCourses(move, tracks);
  const descent = descentOf(move, chain, rest);
  const spans = layAim(move, descent, duration, stops, tracks);
  const { spans: focus, track: focusTrack } = focusSpans(move.keys, duration, stops, tracks);
  const laid = layTracks(tracks.curves, duration, [
    ...move.keys.map((key) => key.time),
    ...[...spans, ...focus].flatMap((span) => [span.start, span.end]),
    ...pupilTimes(move.optics, tracks.curves[lens.focal]),
  ]);
  const middle = (i: number): number => (laid.knots[i] + laid.knots[i + 1]) / 2;
  const intervals = laid.knots.length - 1;
  const spanIn = (list: readonly { readonly end: number }[]): Int32Array =>
    Int32Array.from({ length: intervals }, (_, i) => {
      const found = list.findIndex((span) => middle(i) <= span.end);
      return found < 0 ? list.length - 1 : found;
    });
  const solved = new Set(spans.flatMap((span) => span.problem?.unknown ?? []));
  const sources = move.axes.map((axis, index) => sourceOf(axis, keyed[index].length, solved.has(index)));
  const model: MoveModel = {
    move,
    duration,
    descent,
    ...followerLinks(move, chain),
    tracks: laid,
    ...lens,
    focus: focusTrack,
    targets,
    spans,
    spanOf: spanIn(spans),
    focusSpans: focus,
    focusOf: spanIn(focus),
    ...pupilLines(move.optics, laid, lens.focal),
    sources,
    keys: move.keys.map((): KeyStatus => ({ status: "converged" })),
    unset: move.axes.flatMap((axis, index) =>
      axis.role === "driven" && sources[index] === "constant" && !isHeadRoll(move, axis) ? [index] : [],
    ),
  };
  return { model, keyed, stops };
}

function isHeadRoll(move: ResolvedMove, axis: MoveAxis): boolean {
  return 0 <= axis.joint && move.rig.head?.roll === axis.joint;
}

function sourceOf(axis: MoveAxis, knots: number, solved: boolean): AxisSource {
  if (axis.role === "follows") return "follows";
  if (solved) return "solved";
  return axis.role === "setup" || knots === 0 ? "constant" : "keyed";
}

/** Value of each axis while nothing drives it: the set-up's, else 0 or the nearest end of its range. */
function restValues(move: ResolvedMove): number[] {
  return move.axes.map((axis, index) => {
    const given = move.setup[index];
    if (axis.role === "setup" && given !== undefined) return given;
    return axis.range ? Math.min(Math.max(0, axis.range.low), axis.range.high) : 0;
  });
}

/** Keyed values of one axis; a roll angle is a value of the head's roll axis. */
function knotsOf(move: ResolvedMove, axis: MoveAxis, index: number): Knot[] {
  if (axis.role === "setup" || axis.role === "follows") return [];
  const knots: Knot[] = [];
  for (const key of move.keys) {
    const given = key.axes.find((value) => value.axis === index);
    const rolled = isHeadRoll(move, axis) && key.roll?.kind === "angle" ? key.roll.angle : undefined;
    const value = rolled ?? given?.value;
    if (value !== undefined) knots.push({ time: key.time, value, rest: key.stop });
  }
  return knots;
}

function descentOf(move: ResolvedMove, chain: Chain, rest: readonly number[]): Descent {
  const axisOfJoint = new Int32Array(chain.count).fill(-1);
  const still = new Float64Array(chain.count);
  move.axes.forEach((axis, index) => {
    if (axis.joint < 0) return;
    axisOfJoint[axis.joint] = index;
    if (axis.role === "setup") still[axis.joint] = rest[index];
  });
  return compileDescent(chain, baseFrame(move.base), axisOfJoint, still);
}

function followerLinks(
  move: ResolvedMove,
  chain: Chain,
): { readonly root: Int32Array; readonly ratio: Float64Array; readonly offset: Float64Array } {
  const axisOf = (joint: number): number => move.axes.findIndex((axis) => axis.joint === joint);
  const zero = new Float64Array(chain.count);
  fillFollowers(chain, zero);
  const root = Int32Array.from(move.axes, (_, index) => index);
  const ratio = new Float64Array(move.axes.length).fill(1);
  const offset = new Float64Array(move.axes.length);
  move.axes.forEach((axis, index) => {
    if (axis.role !== "follows" || axis.joint < 0) return;
    const leader = axisOf(chain.root[axis.joint]);
    if (leader < 0) return;
    root[index] = leader;
    ratio[index] = chain.rootRatio[axis.joint];
    offset[index] = zero[axis.joint];
  });
  return { root, ratio, offset };
}

/** Framing, focal length, iris and the roll about the view: channels with keys of their own. */
function layLens(
  move: ResolvedMove,
  stops: readonly number[],
  tracks: TrackList,
): { across: number; down: number; focal: number; iris: number; roll: number } {
  const lay = (read: (key: ResolvedMove["keys"][number]) => number | undefined, otherwise: number): number => {
    const knots = move.keys.flatMap((key) => {
      const value = read(key);
      return value === undefined ? [] : [{ time: key.time, value, rest: key.stop }];
    });
    return tracks.add(knots.length === 0 ? constantCurve(otherwise) : keyedCurve(knots, stops));
  };
  const { focal, iris } = move.optics;
  return {
    across: lay((key) => key.framing?.[0], 0.5),
    down: lay((key) => key.framing?.[1], 0.5),
    focal: lay((key) => key.zoom?.focal, focal.low),
    iris: lay((key) => key.iris?.value, iris),
    roll: lay((key) => (move.rig.head || !key.roll ? undefined : key.roll.kind === "angle" ? key.roll.angle : 0), 0),
  };
}

/** Spans of the aim, cut where the target, the switch or the rule for the horizon changes. */
function layAim(
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
