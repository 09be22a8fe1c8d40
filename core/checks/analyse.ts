import type { FileId } from "../base/span.ts";
import type { Task } from "../base/task.ts";
import { documentKind, type DocumentKind } from "../model/document-kind.ts";
import { resolveMove } from "../model/resolve-move.ts";
import { resolveOptics } from "../model/resolve-optics.ts";
import { resolveRig } from "../model/resolve-rig.ts";
import { resolveSet } from "../model/resolve-set.ts";
import { resolveShoot } from "../model/resolve-shoot.ts";
import type { ResolutionFacts } from "../model/resolution.ts";
import type { Sources, SourceState } from "../model/sources.ts";
import { planTrajectory } from "../motion/plan.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import { parseTree } from "../syntax/parse.ts";
import { applyAllows, readAllows, type Allow } from "./allow.ts";
import type { Analysis } from "./analysis.ts";
import type { PlacedFinding } from "./finding.ts";
import { createMemo, trimDocuments, type AnalysisMemo, type Solved } from "./memo.ts";
import { placeFinding, placeProblem } from "./place-finding.ts";
import { internalError, runChecks } from "./run-checks.ts";

export { createMemo, type AnalysisMemo } from "./memo.ts";

/** What the text says, before the motion is looked at. */
interface TextStep {
  readonly analysis: Analysis;
  /** Findings of the text before any allow. */
  readonly textFindings: readonly PlacedFinding[];
  readonly allows: readonly Allow[];
}

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
  const placed = solved.findings.map((finding) => placeFinding(finding, file, origins, move));
  const { findings, faults } = applyAllows(file, step.allows, [...step.textFindings, ...placed], true);
  const count = step.textFindings.length;
  return {
    ...analysis,
    textFindings: [...findings.slice(0, count), ...faults],
    motionFindings: findings.slice(count),
    trajectory: solved.trajectory,
  };
}

/** Plans and checks a move. When planning itself fails, that is the one finding. */
function* solveMove(file: FileId, move: ResolvedMove, memo: AnalysisMemo): Task<Solved> {
  let solved: Solved;
  try {
    const trajectory = yield* planTrajectory(move);
    solved = { move, trajectory, findings: yield* runChecks(trajectory) };
  } catch (error) {
    solved = { move, findings: [internalError(move.origin, "Planning the motion", error)] };
  }
  memo.keep(file, solved);
  return solved;
}

type Resolved = ResolutionFacts & { readonly move?: ResolvedMove };

function textStep(file: FileId, sources: Sources, memo: AnalysisMemo): TextStep {
  const known = documentKind(file);
  const source = sources.read(file);
  if (!known || source.state !== "text") {
    const analysis = { file, kind: known?.kind, textFindings: [], motionFindings: [], inputs: [file], unread: [] };
    if (source.state === "unread") return bare({ ...analysis, unread: [file] });
    return bare({ ...analysis, textFindings: [notRead(file, source.state)] });
  }
  const { move, origins, problems, inputs, unread } = resolve(known.kind, file, sources, memo);
  const own = problems.filter((problem) => problem.place.file === file).map(placeProblem);
  const kept = memo.documents.get(file);
  const tree = kept && kept.kind !== "urdf" ? kept.tree : parseTree(source.text, known.format);
  trimDocuments(memo);
  const allows = readAllows(source.text, tree);
  const { findings, faults } = applyAllows(file, allows, own, false);
  return {
    analysis: {
      file,
      kind: known.kind,
      textFindings: [...findings, ...faults],
      motionFindings: [],
      inputs,
      unread,
      origins,
      ...(move && unread.length === 0 ? { move } : {}),
    },
    textFindings: own,
    allows,
  };
}

const bare = (analysis: Analysis): TextStep => ({ analysis, textFindings: analysis.textFindings, allows: [] });

function notRead(file: FileId, state: SourceState["state"]): PlacedFinding {
  const message = state === "missing" ? "This file is not there." : "This is no document that may be read here.";
  return { code: "missing-file", severity: "error", message, place: atStart(file), related: [], cures: [] };
}

const atStart = (file: FileId): PlacedFinding["place"] => ({ file, span: { start: 0, end: 0 } });

function resolve(kind: DocumentKind, file: FileId, sources: Sources, { documents }: AnalysisMemo): Resolved {
  switch (kind) {
    case "move":
      return resolveMove(file, sources, documents);
    case "rig":
      return resolveRig(file, sources, documents);
    case "camera":
      return resolveOptics(file, sources, documents);
    case "set":
      return resolveSet(file, sources, documents);
    case "shoot":
      return resolveShoot(file, sources, documents);
  }
}
