import type { FileId } from "../base/span.ts";
import type { Task } from "../base/task.ts";
import { analyse } from "../checks/analyse.ts";
import type { Analysis } from "../checks/analysis.ts";
import type { AnalysisMemo } from "../checks/memo.ts";
import { createSeen, type Seen } from "../checks/seen.ts";
import type { Sources } from "../model/sources.ts";
import { treeOf } from "../model/tree-of.ts";
import type { Tree } from "../syntax/tree.ts";

/** One document at one state of the sources: a side of a review. */
export interface ReviewSide {
  readonly analysis: Analysis;
  /** Empty for a file that is no text. */
  readonly text: string;
  /** Absent for a file that is no document. */
  readonly tree?: Tree;
  /** What the checks saw of the motion, so that it is not looked for again. */
  readonly seen: Seen;
}

/** Analyses a document for a review; `undefined` for a file that isn't there. */
export function* reviewSide(file: FileId, sources: Sources, memo: AnalysisMemo): Task<ReviewSide | undefined> {
  if (sources.read(file).state === "missing") return undefined;
  return sideOf(yield* analyse(file, sources, memo), sources, memo);
}

/** The side of a review for an analysis that is there already, made with this memo. */
export function sideOf(analysis: Analysis, sources: Sources, memo: AnalysisMemo): ReviewSide {
  const { file, kind, move } = analysis;
  const source = sources.read(file);
  const text = source.state === "text" ? source.text : "";
  const tree = kind && source.state === "text" ? { tree: treeOf(memo.documents, file, text) } : {};
  return { analysis, text, ...tree, seen: (move && memo.solved(file, move)?.seen) ?? createSeen() };
}
