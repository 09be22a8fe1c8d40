import type { TextPlace } from "./requests.ts";

/** How near a move comes to its limits, in a few words: for a status bar. Any client may ask. */
export const STATUS_REQUEST = "movewright/status";
export interface StatusParams {
  readonly uri: string;
}

/**
 * `solved`: of the text as it stands. `solving`: the figures are of the last text that could be solved. `last-good`: so they
 * are, and this text can't be solved. `unsolved`: nothing of this move was ever solved.
 */
export type StatusState = "solved" | "solving" | "last-good" | "unsolved";

export interface MoveStatus {
  readonly state: StatusState;
  /** `pan speed 131 %, over the limit`, or why there is no figure. */
  readonly label: string;
  /** True when a share is above 100 %. The label says so too. */
  readonly over: boolean;
  /** Findings of the text as it stands; those of its motion only once it is solved. */
  readonly errors: number;
  readonly warnings: number;
  /** A person stopped the check of the documents that are not open; the move in front is checked all the same. */
  readonly checksStopped: boolean;
  /** Sentences with the whole of it, one a line. */
  readonly lines: readonly string[];
  /** Where the worst share comes from; without one the first error. */
  readonly place?: TextPlace;
}

/** `null` for what is no move. */
export type StatusResult = MoveStatus | null;

/** Server to client, once after each answer: the status of this move may be another one now. */
export const STATUS_CHANGED = "movewright/statusChanged";
export interface StatusChangedParams {
  readonly uri: string;
}
