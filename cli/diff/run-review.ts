import type { FileId } from "../../core/base/span.ts";
import { runToEnd } from "../../core/base/task.ts";
import { planReview, type ReviewPlan } from "../../core/review/plan-review.ts";
import type { Review } from "../../core/review/review.ts";
import { gatherReview } from "../../core/review/review-workspace.ts";
import { fileOfPath } from "../../host/file-path.ts";
import { shownName } from "../../host/git/byte-name.ts";
import type { Work } from "../checking/work.ts";
import { runJobs } from "../jobs/job-table.ts";
import type { ChangeSetting } from "./change-setting.ts";
import type { OpenChange } from "./change-sides.ts";
import type { ReviewInput } from "./review-job.ts";

export interface ReviewedChange {
  readonly review: Review;
  /** Sentences without a stop. */
  readonly notes: readonly string[];
}

/**
 * Reviews a change with all cores.
 *
 * @param isAsked Tells which documents are looked at: those themselves, and moves that they change.
 */
export async function runReview(
  setting: ChangeSetting,
  change: OpenChange,
  isAsked: (file: FileId) => boolean = () => true,
  { cache, ...options }: Work = {},
): Promise<ReviewedChange> {
  const whole = runToEnd(planReview(change.before, change.after, change.renames));
  const plan = askedOf(withoutSecond(whole, setting), isAsked);
  const inputs: ReviewInput[] = [
    ...plan.moves.map((move) => ({ move })),
    ...plan.documents.map((document) => ({ document })),
  ];
  const outputs = await runJobs("review", { ...setting, ...(cache ? { cache } : {}) }, inputs, options);
  const review = gatherReview(
    outputs.flatMap((one) => ("move" in one ? [one.move] : [])),
    outputs.flatMap((one) => ("document" in one ? [one.document] : [])),
  );
  const faults = outputs.flatMap((one) => ("fault" in one ? [faultOf(one.input, one.fault)] : []));
  return { review, notes: [...faults, ...change.notes()] };
}

/** Where one document stands in for two, it is told once. */
function withoutSecond(plan: ReviewPlan, setting: ChangeSetting): ReviewPlan {
  if (setting.way !== "file" || setting.also === undefined || setting.also === setting.after?.as) return plan;
  const second = fileOfPath(setting.also);
  return { ...plan, documents: plan.documents.filter(({ after }) => after !== second) };
}

/** What of a plan is asked for: a document that is, a move that is or that one of these changes, what such a move uses. */
function askedOf({ moves, documents, unread }: ReviewPlan, isAsked: (file: FileId) => boolean): ReviewPlan {
  const named = ({ before, after }: { readonly before?: FileId; readonly after?: FileId }): boolean =>
    [before, after].some((file) => file !== undefined && isAsked(file));
  const kept = moves.filter((job) => named(job) || job.causes.some(isAsked));
  const causes = new Set(kept.flatMap((job) => job.causes));
  const used = ({ before, after }: (typeof documents)[number]): boolean =>
    [before, after].some((file) => file !== undefined && causes.has(file));
  return { moves: kept, documents: documents.filter((job) => named(job) || used(job)), unread };
}

function faultOf(input: ReviewInput, why: string): string {
  const { before, after } = "move" in input ? input.move : input.document;
  return `${shownName(after ?? before ?? "")} could not be compared, by a fault of the program, please report it: ${why}`;
}
