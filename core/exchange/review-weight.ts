import type { FindingReview, MoveReview } from "../review/review.ts";

/** Findings that nobody allowed are those that count, as `check` has it. */
export const newOnes = (findings: readonly FindingReview[], severity: "error" | "warning"): FindingReview[] =>
  findings.filter(
    ({ state, finding }) => state === "new" && finding.severity === severity && finding.allowed === undefined,
  );

/** Whether there is anything to tell of a move beside that it is there. */
export function hasNews(move: MoveReview): boolean {
  const { state, motion, keys, fields, findings, renamedFrom, problem } = move;
  if (state !== "both" || motion !== "same" || renamedFrom !== undefined) return true;
  if (problem.before !== undefined || problem.after !== undefined) return true;
  return keys.length + fields.length > 0 || findings.some((one) => one.state !== "still");
}

/** Moves with the worst first: new errors, what can't be solved, new warnings, another motion, and then the rest. */
export function worstMovesFirst(moves: readonly MoveReview[]): MoveReview[] {
  return [...moves].sort((a, b) => weight(b) - weight(a) || errors(b) - errors(a) || reach(b) - reach(a));
}

const errors = ({ findings }: MoveReview): number => newOnes(findings, "error").length;

function weight(move: MoveReview): number {
  if (errors(move) > 0) return 7;
  if (move.motion === "unknown" && move.state === "both") return 6;
  const isChanged = move.motion === "changed" && move.state === "both";
  if (newOnes(move.findings, "warning").length > 0) return isChanged ? 5 : 4;
  if (isChanged) return 3;
  if (move.state === "removed") return 2;
  return move.state === "added" ? 1 : 0;
}

/** How far the camera is from where it was, at most [m]. */
const reach = ({ effects }: MoveReview): number => effects?.path?.byTime.value ?? 0;
