import type { FileId } from "../../core/base/span.ts";
import type { Analysis } from "../../core/checks/analysis.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import type { DocumentKind } from "../../core/model/document-kind.ts";
import type { OriginTable } from "../../core/model/origin-table.ts";
import type { Sources } from "../../core/model/sources.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { Trajectory } from "../../core/motion/trajectory.ts";
import type { Tree } from "../../core/syntax/tree.ts";
import type { TextShift } from "./text-shift.ts";
import type { ReadNames } from "./names/written-names.ts";

/** A move that could be solved. */
export interface Solved {
  readonly move: ResolvedMove;
  readonly trajectory: Trajectory;
  readonly origins: OriginTable;
  /** Findings of its motion, placed in the text that was solved. */
  readonly findings: readonly PlacedFinding[];
  /** True when the text has changed since and could not be solved again: places are those of the older text. */
  readonly stale: boolean;
  /** Between the text that was solved and the one that stands now; absent where they are the same. */
  readonly shift?: TextShift;
}

/** What a feature sees of one document: its text as it stands and what is known of it. Offsets are of `text`. */
export interface View {
  readonly file: FileId;
  readonly kind: DocumentKind;
  readonly text: string;
  readonly tree: Tree;
  /** Parses another version of the text: quick for one that differs little. */
  readonly parse: (text: string) => Tree;
  readonly analysis: Analysis;
  readonly solved: Solved | undefined;
  readonly sources: Sources;
  readonly names: ReadNames;
}

/** The solved move of an analysis, when it has one; with a shift for one of an older text. */
export function solvedOf(analysis: Analysis, shift?: TextShift): Solved | undefined {
  const { move, trajectory, origins, motionFindings: findings } = analysis;
  if (!move || !trajectory || !origins) return undefined;
  return { move, trajectory, origins, findings, stale: shift !== undefined, shift };
}
