import type { Limit } from "../base/limits.ts";
import type { FileId } from "../base/span.ts";
import type { PlacedFinding } from "../checks/finding.ts";
import type { DocumentKind } from "../model/document-kind.ts";

/** A place in a text for people and programs: from 0, `character` in UTF-16 units. */
export interface TextPosition {
  readonly line: number;
  readonly character: number;
}

export interface TextRange {
  readonly start: TextPosition;
  readonly end: TextPosition;
}

/** What a finding says wherever it stands. */
type SaidAnywhere =
  "code" | "severity" | "message" | "key" | "axis" | "time" | "peak" | "value" | "limit" | "unit" | "allowed" | "pass";

/** A finding with its place as lines and columns: plain data that goes through JSON unharmed. */
export interface CheckedFinding extends Pick<PlacedFinding, SaidAnywhere> {
  readonly file: FileId;
  readonly range: TextRange;
  readonly related: readonly { readonly file: FileId; readonly range: TextRange; readonly message: string }[];
  /** What it is about, however lines and numbers move: the element's own name or path of fields (`keys.rise.axes.pan`). */
  readonly element: string;
  readonly cures: readonly { readonly title: string; readonly file: FileId; readonly edits: readonly TextChange[] }[];
}

export interface TextChange {
  readonly range: TextRange;
  readonly text: string;
}

/** Where a move comes nearest to a limit of an axis, range included. */
export interface WorstLimit {
  /** 1 at the limit; absent where the rate is unbounded. Of a range: 0 in its middle, 1 at its ends. */
  readonly share?: number;
  readonly axis: string;
  readonly of: Limit;
  /** Played time [s]. */
  readonly at: number;
}

/** A move as it goes, in short. */
export interface CheckedMove {
  readonly title: string;
  /** [s] */
  readonly duration: number;
  readonly keys: number;
  readonly worst?: WorstLimit;
}

/** All that `check` tells of one document, whichever thread, run or machine looked at it: plain data. */
export interface CheckedDocument {
  readonly file: FileId;
  readonly kind?: DocumentKind;
  /** In the order of their places. */
  readonly findings: readonly CheckedFinding[];
  /** Of a move that could be solved. */
  readonly move?: CheckedMove;
  /** Files that the answer hangs on, this one and missing ones included. */
  readonly inputs: readonly FileId[];
}
