import type { FileId } from "../../core/base/span.ts";
import { reviewMove } from "../../core/review/review-move.ts";
import type { ReviewedMove } from "../../protocol/review.ts";
import type { Known } from "../analyses.ts";
import { summaryOf } from "../service/review/move-summary.ts";
import type { Session } from "../session.ts";
import type { BaseWorkspace } from "./base-workspace.ts";

/** A move at the base and now. */
export interface BothStates {
  readonly file: FileId;
  readonly before: Known;
  readonly after: Known;
  readonly wanted: () => boolean;
}

/**
 * What is told of a move that may be changed; `undefined` for one whose text is the same and that does what it did, `dropped`
 * when the answer is not wanted any more.
 */
export async function reviewRow(
  session: Session,
  workspace: BaseWorkspace,
  { file, before, after, wanted }: BothStates,
): Promise<ReviewedMove | undefined | "dropped"> {
  const was = workspace.was(file);
  const isThere = (known: Known, at: FileId): boolean => known.texts.get(at)?.state === "text";
  const then = isThere(before, was) ? workspace.analyses.side(before) : undefined;
  const now = isThere(after, file) ? session.analyses.side(after) : undefined;
  const inputs = new Set([...before.analysis.inputs, ...after.analysis.inputs]);
  const causes = [...inputs].filter((input) => input !== file && input !== was && workspace.isChanged(input));
  const around = { causes, renames: workspace.renames() };
  const outcome = await session.run(reviewMove(then, now, around), "background", wanted);
  if (outcome.state === "failed") throw outcome.error;
  if (outcome.state === "dropped") return "dropped";
  const review = outcome.value;
  const isQuiet = review.findings.every(({ state }) => state === "still");
  if (review.state === "both" && review.isTextSame && review.motion === "same" && isQuiet) return undefined;
  const uri = session.texts.uri(file);
  return { uri, ...(was === file ? {} : { was: workspace.texts.uri(was) }), ...summaryOf(review) };
}
