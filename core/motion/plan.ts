import type { Task } from "../base/task.ts";
import { buildModel } from "./build-model.ts";
import { layAimCurves } from "./hand-over.ts";
import { confirmKeys } from "./confirm-keys.ts";
import type { MoveModel } from "./move-model.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { startOfSpan } from "./span-start.ts";
import { createSolveRoom } from "./solve-instant.ts";
import { solveSpan } from "./solve-span.ts";
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
  const built = buildModel(move);
  yield;
  const { model, keyed, stops } = built;
  const room = createSolveRoom(model);
  for (let i = 0; i < model.spans.length; i++) {
    const span = model.spans[i];
    if (span.problem) span.path = yield* solveSpan(model, room, span, startOfSpan(model, room, i, keyed));
  }
  const laid = layAimCurves(model, keyed, stops);
  return { ...laid, keys: confirmKeys(laid) };
}
