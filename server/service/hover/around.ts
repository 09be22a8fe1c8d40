import type { FileId } from "../../../core/base/span.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import type { Solved } from "../view.ts";

/** Most rows of a hover: longer ones are not read. */
export const MOST_ROWS = 10;

/** A move that uses the document, for what its axes need. */
export interface User {
  readonly title: string;
  readonly solved: Solved;
}

/** What is known of another move without any work. */
export interface KnownMove {
  readonly solved?: Solved;
  /** Findings of its text and motion; absent while that text was not checked. */
  readonly findings?: readonly PlacedFinding[];
}

/** What a hover sees beside its document. */
export interface Around {
  readonly users: readonly User[];
  readonly moveOf: (file: FileId) => KnownMove;
}

/** `And 3 more moves.`, where a table was cut. */
export function moreRows(count: number, what: string): string | undefined {
  return count > MOST_ROWS ? `And ${count - MOST_ROWS} more ${what}.` : undefined;
}

export const STALE = "*From the last text that could be solved.*";
