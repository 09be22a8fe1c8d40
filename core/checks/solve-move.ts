import { sameData } from "../base/same-data.ts";
import type { FileId } from "../base/span.ts";
import type { Task } from "../base/task.ts";
import { planTrajectory } from "../motion/plan.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { AnalysisMemo, Solved } from "./memo.ts";
import { ofVariant, variantsOf } from "./passes/variants.ts";
import { internalError, runChecks } from "./run-checks.ts";
import { createSeen } from "./seen.ts";

/** The motion of a move and what its checks find: as the memo knows it, else planned and checked now and kept there. */
export function* solvedMove(file: FileId, move: ResolvedMove, memo: AnalysisMemo): Task<Solved> {
  return memo.solved(file, move) ?? (yield* solveMove(file, move, memo));
}

/** Solves a move and each distinct way in which its passes play it, what an edit left as it was taken from before. */
function* solveMove(file: FileId, move: ResolvedMove, memo: AnalysisMemo): Task<Solved> {
  const last = memo.last(file);
  const own = yield* solve(move, "the motion", last);
  const passes = new Map<string, Solved>();
  const findings = [...own.findings];
  // A move that cannot be planned has that to say; its passes would say it again.
  for (const variant of own.trajectory ? variantsOf(move) : []) {
    const { name } = variant.pass;
    const before = last?.passes?.get(name);
    const isSame = before !== undefined && sameData(before.move, variant.move);
    const solved = isSame ? before : yield* solve(variant.move, `the motion of pass ${name}`, before);
    passes.set(name, solved);
    findings.push(...ofVariant(solved.findings, own.findings, variant.pass));
    yield;
  }
  const solved: Solved = { ...own, findings, ...(passes.size > 0 ? { passes } : {}) };
  memo.keep(file, solved);
  return solved;
}

/** Plans and checks one way to play a move. When planning itself fails, that is the one finding. */
function* solve(move: ResolvedMove, what: string, last: Solved | undefined): Task<Solved> {
  const seen = last?.seen ?? createSeen();
  try {
    const trajectory = yield* planTrajectory(move, last?.trajectory?.record);
    return { move, trajectory, findings: yield* runChecks(trajectory, undefined, seen), seen };
  } catch (error) {
    return { move, findings: [internalError(move.origin, `Planning ${what}`, error)], seen };
  }
}
