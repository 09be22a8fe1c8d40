import type { Task } from "../base/task.ts";
import { buildModel } from "./build-model.ts";
import { confirmKeys } from "./confirm-keys.ts";
import type { MoveModel } from "./move-model.ts";
import { pathRuns, withoutPaths } from "./path-runs.ts";
import { planAims } from "./plan-aims.ts";
import { planPaths } from "./plan-paths.ts";
import type { PlanRecord, Recall } from "./plan-record.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import type { Trajectory } from "./trajectory.ts";
import { trajectoryOf } from "./trajectory-of.ts";

/**
 * Plans the motion of a move: every channel a curve, every aim solved and followed on one branch. Never throws for a
 * move that was resolved, whatever its numbers; what cannot be solved has its status in the result.
 *
 * @param earlier What the plan of the move before an edit left: what is equal in both is not solved again. The result is
 *                the same to the last bit.
 */
export function* planTrajectory(move: ResolvedMove, earlier?: PlanRecord): Task<Trajectory> {
  const { model, recall } = yield* planModel(move, earlier);
  return trajectoryOf(model, recall);
}

/**
 * The move made ready to be evaluated, every span solved, and what it leaves to the next plan. Paths come last: keys that
 * say nothing of the camera's place have it where their axes and the aim take it by themselves.
 */
export function* planModel(
  move: ResolvedMove,
  earlier?: PlanRecord,
): Task<{ readonly model: MoveModel; readonly recall: Recall }> {
  const runs = pathRuns(move.keys);
  const { model, keyed, timing, moments, recall } = yield* buildModel(
    runs.length === 0 ? move : { ...move, keys: withoutPaths(move.keys) },
    earlier,
  );
  yield;
  const aimed = yield* planAims(model, keyed, timing, moments);
  const planned = runs.length === 0 ? aimed : yield* planPaths({ ...aimed, move }, { runs, keyed, timing, moments });
  return { model: { ...planned, keys: confirmKeys(planned) }, recall };
}
