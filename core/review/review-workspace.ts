import type { FileId } from "../base/span.ts";
import type { Task } from "../base/task.ts";
import { documentKind } from "../model/document-kind.ts";
import { planReview, type DocumentJob, type MoveJob, type ReviewedSources } from "./plan-review.ts";
import type { DocumentReview, MoveReview, Review } from "./review.ts";
import { reviewAsset, reviewDocument } from "./review-document.ts";
import { reviewMove } from "./review-move.ts";
import { reviewSide, type ReviewSide } from "./review-side.ts";

/** Both sides of a change, as far as its jobs need them. */
export interface ReviewedChange {
  readonly before: Pick<ReviewedSources, "sources" | "memo">;
  readonly after: Pick<ReviewedSources, "sources" | "memo">;
  /** Files that were renamed, from before to after. */
  readonly renames?: ReadonlyMap<FileId, FileId>;
}

/** Reviews one move of a plan. */
export function* runMoveJob(job: MoveJob, change: ReviewedChange): Task<MoveReview> {
  const { before, after } = yield* sidesOf(job, change);
  return yield* reviewMove(before, after, { renames: change.renames, causes: job.causes });
}

/** Reviews one other document, or file that documents name, of a plan. */
export function* runDocumentJob(job: DocumentJob, change: ReviewedChange): Task<DocumentReview> {
  const { renames } = change;
  const file = job.after ?? job.before ?? "";
  if (!documentKind(file)) {
    const files = { before: job.before ?? file, after: job.after ?? file };
    const was = change.before.sources.read(files.before);
    return reviewAsset(files, was, change.after.sources.read(files.after), job);
  }
  const { before, after } = yield* sidesOf(job, change);
  return reviewDocument(before, after, { renames, moves: job.moves });
}

/** Both sides of a job, analysed. */
export function* sidesOf(
  job: { readonly before?: FileId; readonly after?: FileId },
  { before, after }: ReviewedChange,
): Task<{ readonly before: ReviewSide | undefined; readonly after: ReviewSide | undefined }> {
  return {
    before: job.before === undefined ? undefined : yield* reviewSide(job.before, before.sources, before.memo),
    after: job.after === undefined ? undefined : yield* reviewSide(job.after, after.sources, after.memo),
  };
}

/** What all jobs of a plan found, in the order of files. A document in which nothing changed has nothing to say. */
export function gatherReview(moves: readonly MoveReview[], documents: readonly DocumentReview[]): Review {
  return { moves: [...moves].sort(byFile), documents: documents.filter(isTelling).sort(byFile) };
}

const byFile = (a: { readonly file: FileId }, b: { readonly file: FileId }): number => (a.file < b.file ? -1 : 1);

function isTelling({ state, renamedFrom, isTextSame, findings }: DocumentReview): boolean {
  return !isTextSame || state !== "both" || renamedFrom !== undefined || findings.some((one) => one.state !== "still");
}

/** What a change of a workspace means, one job after the other. */
export function* reviewWorkspace(
  before: ReviewedSources,
  after: ReviewedSources,
  renames: ReadonlyMap<FileId, FileId> = new Map(),
): Task<Review> {
  const plan = yield* planReview(before, after, renames);
  const change = { before, after, renames };
  const moves: MoveReview[] = [];
  for (const job of plan.moves) moves.push(yield* runMoveJob(job, change));
  const documents: DocumentReview[] = [];
  for (const job of plan.documents) documents.push(yield* runDocumentJob(job, change));
  return gatherReview(moves, documents);
}
