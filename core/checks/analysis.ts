import type { FileId } from "../base/span.ts";
import type { OriginTable } from "../model/origin-table.ts";
import type { DocumentKind } from "../model/document-kind.ts";
import type { ResolvedShoot } from "../model/resolved-shoot.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import type { PlacedFinding } from "./finding.ts";

/** All that is known of one document at one state of the sources. */
export interface Analysis {
  readonly file: FileId;
  readonly kind: DocumentKind | undefined;
  /** Findings of the text, of this document only: syntax, fields, references. */
  readonly textFindings: readonly PlacedFinding[];
  /** Findings of the motion; empty unless the document is a move that could be resolved, or a shoot. */
  readonly motionFindings: readonly PlacedFinding[];
  /** Files that this answer depends on, this one and missing ones included. */
  readonly inputs: readonly FileId[];
  /** Files that must be read before the answer is whole. Not empty: ask again when they are in. */
  readonly unread: readonly FileId[];
  /** Present for a move that could be resolved. */
  readonly move?: ResolvedMove;
  /** Present for a shoot that is well formed. */
  readonly shoot?: ResolvedShoot;
  readonly origins?: OriginTable;
  readonly trajectory?: Trajectory;
}

/** All findings of a document, a list of its own; their position in it is their id on the stage. */
export function findingsOf({ textFindings, motionFindings }: Analysis): PlacedFinding[] {
  return [...textFindings, ...motionFindings];
}
