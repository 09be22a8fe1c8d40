import type { Task } from "../base/task.ts";
import { buildModel } from "./build-model.ts";
import { confirmKeys } from "./confirm-keys.ts";
import { layAimCurves } from "./hand-over.ts";
import { joinTurns } from "./join-turns.ts";
import type { Knot } from "./keyed-curve.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { startOfSpan } from "./span-start.ts";
import { createSolveRoom, type SolveRoom } from "./solve-instant.ts";
import { solveSpan } from "./solve-span.ts";
import { writeStill } from "./tracks.ts";
import type { Trajectory } from "./trajectory.ts";
import { trajectoryOf } from "./trajectory-of.ts";

/**
 * Plans the motion of a move: every channel a curve, every aim solved and followed on one branch. Never throws for a
 * move that was resolved, whatever its numbers; what cannot be solved has its status in the result.
 */
export function* planTrajectory(move: ResolvedMove): Task<Trajectory> {
  return trajectoryOf(yield* planModel(move));
}

/** The move made ready to be evaluated, every span solved. */
export function* planModel(move: ResolvedMove): Task<MoveModel> {
  const { model: built, keyed: given, timing, moments } = yield* buildModel(move);
  yield;
  const room = createSolveRoom(built, moments);
  const keyed = given.map((knots) => [...knots]);
  const isLevel = (span: AimSpan): boolean => move.rig.head !== undefined && span.problem?.level === true;
  // The roll of a level horizon does not wait for the roll's own channel, which runs from it and into it.
  let model = built;
  yield* solveSpans(model, room, keyed, isLevel);
  addMoments(model, room, keyed, moments.filter(isLevel));
  const level = [...model.spans, ...moments].find(isLevel)?.problem;
  if (level) model = layAimCurves(model, keyed, timing, level.unknown.slice(-1));
  yield* solveSpans(model, room, keyed, (span) => span.problem !== undefined && !isLevel(span));
  joinTurns(model);
  addMoments(
    model,
    room,
    keyed,
    moments.filter((moment) => !isLevel(moment)),
  );
  const aimed = new Set([...model.spans, ...moments].flatMap((span) => span.problem?.unknown ?? []));
  const laid = layAimCurves(model, keyed, timing, [...aimed]);
  return { ...laid, keys: confirmKeys(laid) };
}

function* solveSpans(
  model: MoveModel,
  room: SolveRoom,
  keyed: readonly (readonly Knot[])[],
  which: (span: AimSpan) => boolean,
): Task<void> {
  for (let i = 0; i < model.spans.length; i++) {
    const span = model.spans[i];
    if (!which(span)) continue;
    // Spans solved before have written over axes that stand still in this one.
    writeStill(model.tracks, room.series);
    span.path = yield* solveSpan(model, room, span, startOfSpan(model, room, span, model.spans[i - 1], keyed));
  }
}

/** Solves single instants and adds their values to the knots of their axes. */
function addMoments(model: MoveModel, room: SolveRoom, keyed: Knot[][], moments: readonly AimSpan[]): void {
  for (const moment of moments) {
    writeStill(model.tracks, room.series);
    const values = startOfSpan(model, room, moment, undefined, keyed);
    moment.problem!.unknown.forEach((axis, u) => {
      const others = keyed[axis].filter((knot) => knot.time !== moment.start);
      const knot = { time: moment.start, value: values[u], rest: moment.start === model.duration };
      keyed[axis] = [...others, knot].sort((a, b) => a.time - b.time);
    });
  }
}
