import type { Task } from "../base/task.ts";
import { layAimCurves } from "./hand-over.ts";
import { joinTurns } from "./join-turns.ts";
import type { KeyTiming } from "./key-timing.ts";
import type { Knot } from "./keyed-curve.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import type { Recall } from "./plan-record.ts";
import { createSolveRoom, type SolveRoom } from "./solve-instant.ts";
import { solveSpan } from "./solve-span.ts";
import { startOfSpan } from "./span-start.ts";
import { writeStill } from "./tracks.ts";

/**
 * Solves every aim of a model on one branch, spans along paths excepted, which are solved already, and lays the curves that
 * run out of and into solved spans.
 *
 * @param given   Knots by axis: keyed values and those of camera keys.
 * @param moments Instants whose solved values become knots.
 */
export function* planAims(
  built: MoveModel,
  given: readonly (readonly Knot[])[],
  timing: KeyTiming,
  moments: readonly AimSpan[],
): Task<MoveModel> {
  const room = createSolveRoom(built, moments);
  const keyed = given.map((knots) => [...knots]);
  const isLevel = (span: AimSpan): boolean => built.move.rig.head !== undefined && span.problem?.level === true;
  const isFree = (span: AimSpan): boolean => span.problem !== undefined && !span.problem.placed;
  // The roll of a level horizon does not wait for the roll's own channel, which runs from it and into it.
  let model = built;
  yield* solveSpans(model, room, keyed, timing.recall, (span) => isFree(span) && isLevel(span));
  addMoments(model, room, keyed, moments.filter(isLevel));
  const level = [...model.spans, ...moments].find((span) => isFree(span) && isLevel(span))?.problem;
  if (level) model = layAimCurves(model, keyed, timing, level.unknown.slice(-1));
  yield* solveSpans(model, room, keyed, timing.recall, (span) => isFree(span) && !isLevel(span));
  joinTurns(model);
  addMoments(
    model,
    room,
    keyed,
    moments.filter((moment) => !isLevel(moment)),
  );
  const aimed = new Set([...model.spans, ...moments].flatMap((span) => span.problem?.unknown ?? []));
  return layAimCurves(model, keyed, timing, [...aimed]);
}

function* solveSpans(
  model: MoveModel,
  room: SolveRoom,
  keyed: readonly (readonly Knot[])[],
  recall: Recall | undefined,
  which: (span: AimSpan) => boolean,
): Task<void> {
  for (let i = 0; i < model.spans.length; i++) {
    const span = model.spans[i];
    if (!which(span)) continue;
    // Spans solved before have written over axes that stand still in this one.
    writeStill(model.tracks, room.series);
    const start = startOfSpan(model, room, span, model.spans[i - 1], keyed);
    span.path = yield* solveSpan(model, room, span, start, recall);
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
