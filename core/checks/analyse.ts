import type { FileId } from "../base/span.ts";
import type { Task } from "../base/task.ts";
import type { Sources } from "../model/sources.ts";
import type { Analysis } from "./analysis.ts";
import { analyseShoot } from "./analyse-shoot.ts";
import { withCures } from "./cures.ts";
import { judge } from "./judge.ts";
import { createMemo, type AnalysisMemo } from "./memo.ts";
import { placeFinding } from "./place-finding.ts";
import { solvedMove } from "./solve-move.ts";
import { textStep } from "./text-step.ts";

export { createMemo, type AnalysisMemo } from "./memo.ts";

/**
 * The first, quick step: reads and resolves one document of any kind. Its findings are those of the text; a move that
 * could be resolved is in `move`.
 */
export function analyseText(file: FileId, sources: Sources, memo: AnalysisMemo = createMemo()): Analysis {
  return textStep(file, sources, memo).analysis;
}

/**
 * All that can be found about one document. For a move that could be resolved the motion is planned and checked; one that
 * the memo knows as solved is not solved again, only its findings are placed anew. For a shoot that is so of all its moves.
 */
export function* analyse(file: FileId, sources: Sources, memo: AnalysisMemo = createMemo()): Task<Analysis> {
  const step = textStep(file, sources, memo);
  const { analysis } = step;
  const { move, origins } = analysis;
  if (analysis.shoot) return yield* analyseShoot(step, analysis.shoot, sources, memo);
  if (!move || !origins) return analysis;
  yield;
  const solved = yield* solvedMove(file, move, memo);
  const placed = solved.findings.map((finding) =>
    withCures(placeFinding(finding, file, origins, move), finding, origins, sources, memo),
  );
  return { ...analysis, ...judge(step, step.textFindings, placed), trajectory: solved.trajectory };
}
