import { isFiniteData } from "../../core/base/finite-data.ts";
import { isRecord } from "../../core/base/is-record.ts";
import type { FileId } from "../../core/base/span.ts";
import { runToEnd } from "../../core/base/task.ts";
import type { DocumentJob, MoveJob } from "../../core/review/plan-review.ts";
import type { DocumentReview, MoveReview } from "../../core/review/review.ts";
import { reviewMove } from "../../core/review/review-move.ts";
import { runDocumentJob, sidesOf } from "../../core/review/review-workspace.ts";
import { keptJob, type KeptSetting } from "../../host/cache/kept-job.ts";
import type { ChangeSetting } from "./change-setting.ts";
import type { OpenChange } from "./change-sides.ts";
import { openChange } from "./open-change.ts";

/** One thing to look at. */
export type ReviewInput = { readonly move: MoveJob } | { readonly document: DocumentJob };

/** What was found, or the fault of the program that came in the way. */
export type ReviewOutput =
  | { readonly move: MoveReview; readonly inputs: Readonly<Record<"before" | "after", readonly FileId[]>> }
  | { readonly document: DocumentReview }
  | { readonly fault: string; readonly input: ReviewInput };

export type ReviewSetting = ChangeSetting & KeptSetting;

/** Reviews moves and documents of a change one by one. Moves are what takes long: what was found of them is kept. */
export const reviewJob = keptJob<ReviewSetting, ReviewInput, ReviewOutput>("review", {
  sides(setting) {
    const { before, after } = opened(setting);
    return { before: before.sources, after: after.sources };
  },
  open(setting, sides) {
    const { before, after, renames } = opened(setting);
    const change = {
      before: { ...before, sources: sides.before },
      after: { ...after, sources: sides.after },
      renames,
    };
    return (input) => {
      if ("document" in input) return { document: runToEnd(runDocumentJob(input.document, change)) };
      const job = input.move;
      const two = runToEnd(sidesOf(job, change));
      const move = runToEnd(reviewMove(two.before, two.after, { renames, causes: job.causes }));
      // Hundreds of motions that nobody asks for again would take their time to be collected.
      if (job.before !== undefined) before.memo.forget(job.before);
      if (job.after !== undefined) after.memo.forget(job.after);
      return {
        move,
        inputs: { before: two.before?.analysis.inputs ?? [], after: two.after?.analysis.inputs ?? [] },
      };
    };
  },
  failed: (input, error) => ({ fault: error instanceof Error ? error.message : String(error), input }),
  // A rename anywhere may be one of a file that the move names.
  question: (input, setting) => JSON.stringify([input, [...opened(setting).renames].sort()]),
  inputs: (output) => ("inputs" in output ? output.inputs : {}),
  isOutput: isKept,
});

const OPENED = new WeakMap<ReviewSetting, OpenChange>();

/** The change of a setting, opened once in a thread. */
function opened(setting: ReviewSetting): OpenChange {
  const known = OPENED.get(setting) ?? openChange(setting);
  OPENED.set(setting, known);
  return known;
}

/** What JSON would change is not kept, nor a fault, nor what failed inside the program and may not fail again. */
function isKept(value: unknown): value is ReviewOutput {
  if (!isRecord(value) || !isRecord(value.move) || !isRecord(value.inputs)) return false;
  const { file, keys, fields, findings, causes } = value.move;
  if (typeof file !== "string" || ![keys, fields, findings, causes].every(Array.isArray)) return false;
  const isFault = (one: unknown): boolean => isRecord(one) && one.code === "internal-error";
  return isFiniteData(value) && !(findings as unknown[]).some(isFault);
}
