import type { FileId } from "../base/span.ts";
import type { Task } from "../base/task.ts";
import type { Sources } from "../model/sources.ts";
import { planTrajectory } from "../motion/plan.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { OriginTable } from "../model/origin-table.ts";
import { treeOf } from "../model/tree-of.ts";
import { addFieldCure, spelledFor } from "./add-field.ts";
import { applyAllows } from "./allow.ts";
import type { Analysis } from "./analysis.ts";
import type { AddedField, PlacedFinding, SetValue } from "./finding.ts";
import { createMemo, type AnalysisMemo, type Solved } from "./memo.ts";
import { placeFinding } from "./place-finding.ts";
import { applySeverities } from "./severity.ts";
import { internalError, runChecks } from "./run-checks.ts";
import { createSeen } from "./seen.ts";
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
 * the memo knows as solved is not solved again, only its findings are placed anew.
 */
export function* analyse(file: FileId, sources: Sources, memo: AnalysisMemo = createMemo()): Task<Analysis> {
  const step = textStep(file, sources, memo);
  const { analysis } = step;
  const { move, origins } = analysis;
  if (!move || !origins) return analysis;
  yield;
  const solved = memo.solved(file, move) ?? (yield* solveMove(file, move, memo));
  const placed = solved.findings.map((finding) => {
    const one = placeFinding(finding, file, origins, move);
    const { adds = [], sets = [] } = finding;
    if (adds.length === 0 && sets.length === 0) return one;
    return { ...one, cures: [...addedCures(one, adds, sources, memo), ...setCures(sets, origins)] };
  });
  const { findings, faults } = applyAllows(file, step.allows, [...step.textFindings, ...placed], true);
  const count = step.textFindings.length;
  return {
    ...analysis,
    textFindings: applySeverities([...findings.slice(0, count), ...faults], step.severities),
    motionFindings: applySeverities(findings.slice(count), step.severities),
    trajectory: solved.trajectory,
  };
}

/** The edits that give the key of a finding one field more each. */
function addedCures(
  { place: { file, span } }: PlacedFinding,
  adds: readonly AddedField[],
  sources: Sources,
  { documents }: AnalysisMemo,
): PlacedFinding["cures"] {
  if (adds.length === 0) return [];
  const source = sources.read(file);
  if (source.state !== "text") return [];
  const tree = treeOf(documents, file, source.text);
  return adds.flatMap((added) => addFieldCure(file, source.text, tree, span.start, added) ?? []);
}

/** The edits that write a value in place of another. */
function setCures(sets: readonly SetValue[], origins: OriginTable): PlacedFinding["cures"] {
  return sets.flatMap(({ origin, value, title }) => {
    const place = origins.place(origin);
    if (!place) return [];
    const text = spelledFor(/\.json$/i.test(place.file), value);
    return [{ title, file: place.file, edits: [{ span: place.span, text }] }];
  });
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
