import type { TextPosition } from "./requests.ts";

/** What changes are told against: a commit of the repository that holds `of`, a folder of the workspace. */
export interface ReviewBase {
  readonly of: string;
  /** Names a commit for ever. */
  readonly revision: string;
  /** What people know it by, short: `main`, `HEAD`, `1a2b3c4`. */
  readonly label: string;
}

/** A file that is another one on the disk than at the base, came, or went. */
export interface ChangedFile {
  readonly uri: string;
  /** Where it was at the base, for one that was renamed. */
  readonly was?: string;
}

/**
 * The moves below `base.of` that are changed. It answers soon with what is known; `left` moves are looked at behind all that
 * is edited, and `REVIEW_CHANGED` tells when there is more. The server keeps what it found until the next question.
 */
export const REVIEW_REQUEST = "movewright/review";
export interface ReviewParams {
  readonly base: ReviewBase;
  /** Files that the disk has otherwise than the base. Texts that are open are compared by the server itself. */
  readonly changed: readonly ChangedFile[];
  /** Whether findings that are new are marked among the diagnostics of these documents. */
  readonly marks: boolean;
}
export interface ReviewResult {
  /** The worst first, at most `MOVES_CAP`. */
  readonly moves: readonly ReviewedMove[];
  /** Moves that are changed beyond those. */
  readonly more: number;
  /** Moves that are still looked at. */
  readonly left: number;
  /** Why the base can't be read, as a sentence. */
  readonly problem?: string;
}

/** Most moves that one answer names. */
export const MOVES_CAP = 200;

/** How grave what a change does is, the worst first. */
export const REVIEW_LEVELS = ["error", "unsolved", "warning", "changed", "same"] as const;
export type ReviewLevel = (typeof REVIEW_LEVELS)[number];

export interface ReviewedMove {
  /** Of the move now; where it was, for one that is gone. */
  readonly uri: string;
  /** Where it was at the base, where that is another place. */
  readonly was?: string;
  readonly title: string;
  readonly state: "added" | "removed" | "both";
  readonly level: ReviewLevel;
  /** The worst of it in a few words: `pan speed 82 % → 104 %`, `no motion change`. */
  readonly worst: string;
  /** All of it, a line each, the worst first. */
  readonly lines: readonly string[];
}

/** Server to client: the answer for this folder would be another one. */
export const REVIEW_CHANGED = "movewright/reviewChanged";
export interface ReviewChangedParams {
  readonly of: string;
}

/** Client to server: nobody asks about this folder any more; marks of its findings go. */
export const REVIEW_DROPPED = "movewright/reviewDropped";
export type ReviewDroppedParams = ReviewChangedParams;

/** One side of a comparison: a document at a commit, or as it stands where there is none. */
export interface ReviewSide {
  readonly uri: string;
  readonly revision?: string;
}

/** Old and new solved values at a place of one of two states of a move, as Markdown; `null` where there is nothing to tell. */
export const REVIEW_HOVER_REQUEST = "movewright/reviewHover";
export interface ReviewHoverParams {
  readonly before: ReviewSide;
  readonly after: ReviewSide;
  /** Which text `position` is in. */
  readonly side: "before" | "after";
  readonly position: TextPosition;
  /** What the sides are called: `main`, `now`. */
  readonly labels: readonly [before: string, after: string];
  /** Nothing is told where nothing differs; else that is said. */
  readonly quiet: boolean;
}
export type ReviewHoverResult = { readonly markdown: string } | null;

export const COMPARE_HEAD_COMMAND = "movewright.compareWithHead";
export const CHOOSE_BASE_COMMAND = "movewright.chooseReviewBase";
export const REFRESH_REVIEW_COMMAND = "movewright.refreshReview";
/** Shows a move of the view: its texts side by side, and the stage. */
export const SHOW_CHANGE_COMMAND = "movewright.showChange";
export const CHANGED_MOVES_VIEW = "movewright.changedMoves";
