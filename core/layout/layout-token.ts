import type { Span } from "../base/span.ts";

/** What a piece of text is to its layout. `more` is a further line of the scalar before, `marker` a line of its own. */
export type TokenKind =
  | "open"
  | "close"
  | "comma"
  | "colon"
  | "dash"
  | "question"
  | "property"
  | "alias"
  | "scalar"
  | "more"
  | "comment"
  | "marker";

/** A piece of a text that keeps every character. Between two of them there are only blanks and line ends. */
export interface LayoutToken extends Span {
  readonly kind: TokenKind;
  /** Line ends before it in the new layout; 0 where it follows on the same line. */
  readonly breaks: number;
  /** Whether all these line ends mean something, as those within a scalar do. */
  readonly keepsBreaks: boolean;
  /** Blanks before it, where it is the first of its line. */
  readonly column: number;
}

/** Blanks of one step of indentation. */
export const STEP = 2;
