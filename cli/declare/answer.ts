import type { Outcome } from "../failure.ts";

/** Takes what a command came to; the last one counts. */
export type Answer = (outcome: Outcome) => void;
