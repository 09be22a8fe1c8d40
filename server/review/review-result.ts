import { MOVES_CAP, REVIEW_LEVELS, type ReviewedMove, type ReviewResult } from "../../protocol/review.ts";
import type { BaseWorkspace } from "./base-workspace.ts";

/** An answer from the moves that were looked at: the worst first, those alike by their titles. */
export function resultOf(moves: readonly ReviewedMove[], left: number, { base, refusal }: BaseWorkspace): ReviewResult {
  const refused = refusal();
  if (refused !== undefined) {
    return { moves: [], more: 0, left: 0, problem: `The files of ${base.label} can't be read. ${refused}` };
  }
  const rank = ({ level }: ReviewedMove): number => REVIEW_LEVELS.indexOf(level);
  const sorted = [...moves].sort((a, b) => rank(a) - rank(b) || compare(a.title, b.title) || compare(a.uri, b.uri));
  return { moves: sorted.slice(0, MOVES_CAP), more: Math.max(0, sorted.length - MOVES_CAP), left };
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
