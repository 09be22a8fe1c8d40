import type { Task } from "../base/task.ts";
import { pupilAt } from "../lens/pupil.ts";
import { baseFrame, compileRig, type Chain } from "../rig/chain.ts";
import { followerLinks, isHeadRoll, knotsOf, restValues, sourceOf } from "./axis-values.ts";
import { solveCameraKeys } from "./camera-keys.ts";
import { compileDescent, type Descent } from "./descent.ts";
import { focusSpans } from "./focus-spans.ts";
import { keyTimingOf, layKnots, leavesAt, type KeyTiming } from "./key-timing.ts";
import type { Knot } from "./keyed-curve.ts";
import { layAim } from "./lay-aim.ts";
import { layLens } from "./lay-lens.ts";
import { trackList, type AimSpan, type MoveModel } from "./move-model.ts";
import { constantCurve, valueAt, type Piecewise } from "./piecewise.ts";
import { beginRecord, type PlanRecord, type Recall } from "./plan-record.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { targetCourses } from "./target-courses.ts";
import { layTracks, type Tracks } from "./tracks.ts";

/** A model whose spans are not solved yet, and what is still needed for that. */
export interface BuiltModel {
  readonly model: MoveModel;
  /** Knots by axis: keyed values and those of camera keys. */
  readonly keyed: readonly (readonly Knot[])[];
  /** Where all rests, and how fast written time is played. */
  readonly timing: KeyTiming;
  /** Instants whose solved values become knots. */
  readonly moments: readonly AimSpan[];
  readonly recall: Recall;
}

/**
 * Binds a move to its chain, solves its camera keys and lays every curve that does not wait for an aim.
 *
 * @param earlier What the plan of the move before an edit left.
 */
export function* buildModel(move: ResolvedMove, earlier?: PlanRecord): Task<BuiltModel> {
  const chain = compileRig(move.rig);
  const base = baseFrame(move.base);
  const duration = Math.max(0, move.keys.length === 0 ? 0 : leavesAt(move.keys[move.keys.length - 1]));
  const clocked = keyTimingOf(move.keys);
  const recall = beginRecord(move, clocked, earlier);
  const timing = { ...clocked, recall };
  const rest = restValues(move);
  const given = move.axes.map((axis, index) => knotsOf(move, axis, index));
  const list = trackList();
  given.forEach((knots, index) => list.add(axisCurve(knots, timing, rest[index])));
  const lens = layLens(move, timing, list);
  const targets = targetCourses(move, list);
  const descent = descentOf(move, chain, rest);
  const { spans, moments } = layAim(move, descent, duration, timing, list);
  const { spans: focus, track: focusTrack } = focusSpans(move.keys, duration, timing, list);
  const times = [
    ...move.keys.flatMap((key) => [key.time, leavesAt(key)]),
    ...[...spans, ...focus].flatMap((span) => [span.start, span.end]),
  ];
  const first = layTracks(list.curves, duration, times);
  const { keys, knots: solvedKnots } = yield* solveCameraKeys(
    {
      move,
      chain,
      base,
      tracks: first,
      targets,
      spans,
      ...lens,
      focusSpans: focus,
      focus: focusTrack,
      rest,
      recall,
    },
    given,
  );
  const keyed = given.map((knots, index) =>
    solvedKnots[index].length === 0 ? knots : [...knots, ...solvedKnots[index]].sort((a, b) => a.time - b.time),
  );
  solvedKnots.forEach((knots, index) => {
    if (0 < knots.length) list.curves[index] = axisCurve(keyed[index], timing, rest[index]);
  });
  const isSame = solvedKnots.every((knots) => knots.length === 0);
  const tracks = isSame ? first : layTracks(list.curves, duration, times);
  const aimed = new Set([...spans, ...moments].flatMap((span) => span.problem?.unknown ?? []));
  const sources = move.axes.map((axis, index) =>
    sourceOf(axis, keyed[index].length, aimed.has(index) || 0 < solvedKnots[index].length),
  );
  const model: MoveModel = {
    move,
    duration,
    descent,
    ...followerLinks(move, chain),
    tracks,
    ...lens,
    focus: focusTrack,
    targets,
    pathPieces: [],
    travel: -1,
    pathOf: new Int32Array(tracks.knots.length - 1).fill(-1),
    pathNotes: [],
    spans,
    spanOf: spanByInterval(tracks, spans),
    focusSpans: focus,
    focusOf: spanByInterval(tracks, focus),
    stillPupil: stillPupil(move, tracks.curves[lens.focal], focus.length),
    sources,
    keys,
    unset: move.axes.flatMap((axis, index) =>
      axis.role === "driven" && sources[index] === "constant" && !isHeadRoll(move, axis) ? [index] : [],
    ),
  };
  return { model, keyed, timing, moments, recall };
}

function axisCurve(knots: readonly Knot[], timing: KeyTiming, rest: number): Piecewise {
  return knots.length === 0 ? constantCurve(rest) : layKnots(knots, timing);
}

/** The pupil of a move in which nothing moves it, else NaN. */
function stillPupil(move: ResolvedMove, focal: Piecewise, focusSpans: number): number {
  const { pupil } = move.optics;
  const zooms = 1 < pupil.focal.length && 0 < focal.degree;
  const pulls = 1 < pupil.near.length && 0 < focusSpans;
  return zooms || pulls ? NaN : pupilAt(move.optics, valueAt(focal, 0), NaN);
}

/** The span that holds each interval; both follow one another in time. */
function spanByInterval({ knots }: Tracks, spans: readonly { readonly end: number }[]): Int32Array {
  let span = 0;
  return Int32Array.from({ length: knots.length - 1 }, (_, i) => {
    const middle = (knots[i] + knots[i + 1]) / 2;
    while (span + 1 < spans.length && spans[span].end < middle) span++;
    return Math.min(span, spans.length - 1);
  });
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
