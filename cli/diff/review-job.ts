import { runToEnd } from "../../core/base/task.ts";
import type { DocumentJob, MoveJob } from "../../core/review/plan-review.ts";
import type { DocumentReview, MoveReview } from "../../core/review/review.ts";
import { runDocumentJob, runMoveJob } from "../../core/review/review-workspace.ts";
import type { Job } from "../../host/pool/job.ts";
import type { ChangeSetting } from "./change-setting.ts";
import { openChange } from "./open-change.ts";

/** One thing to look at. */
export type ReviewInput = { readonly move: MoveJob } | { readonly document: DocumentJob };

/** What was found, or the fault of the program that came in the way. */
export type ReviewOutput =
  | { readonly move: MoveReview }
  | { readonly document: DocumentReview }
  | { readonly fault: string; readonly input: ReviewInput };

/** Reviews moves and documents of a change one by one. */
export const reviewJob: Job<ChangeSetting, ReviewInput, ReviewOutput> = {
  open(setting) {
    const change = openChange(setting);
    return {
      work(input) {
        if ("document" in input) return { document: runToEnd(runDocumentJob(input.document, change)) };
        const { before, after } = input.move;
        const move = runToEnd(runMoveJob(input.move, change));
        // Hundreds of motions that nobody asks for again would take their time to be collected.
        if (before !== undefined) change.before.memo.forget(before);
        if (after !== undefined) change.after.memo.forget(after);
        return { move };
      },
    };
  },
  failed: (input, error) => ({ fault: error instanceof Error ? error.message : String(error), input }),
};
