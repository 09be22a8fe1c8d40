import type { FileId } from "../base/span.ts";
import type { Task } from "../base/task.ts";
import { planTrajectory } from "../motion/plan.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { AnalysisMemo, Solved } from "./memo.ts";
import { internalError, runChecks } from "./run-checks.ts";
import { createSeen } from "./seen.ts";

/** The motion of a move and what its checks find: as the memo knows it, else planned and checked now and kept there. */
export function* solvedMove(file: FileId, move: ResolvedMove, memo: AnalysisMemo): Task<Solved> {
  return memo.solved(file, move) ?? (yield* solveMove(file, move, memo));
}

/** Plans and checks a move, what an edit left as it was taken from before. When planning itself fails, that is the one finding. */
function* solveMove(file: FileId, move: ResolvedMove, memo: AnalysisMemo): Task<Solved> {
  const last = memo.last(file);
  const seen = last?.seen ?? createSeen();
  let solved: Solved;
  try {
    const trajectory = yield* planTrajectory(move, last?.trajectory?.record);
    solved = { move, trajectory, findings: yield* runChecks(trajectory, undefined, seen), seen };
  } catch (error) {
    solved = { move, findings: [internalError(move.origin, "Planning the motion", error)], seen };
  }
  memo.keep(file, solved);
  return solved;
}
