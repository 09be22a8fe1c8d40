import type { FileId } from "../../core/base/span.ts";
import { createMemo } from "../../core/checks/memo.ts";
import type { Sources } from "../../core/model/sources.ts";
import type { ReviewedSources } from "../../core/review/plan-review.ts";

/** Both states of a change, ready to be reviewed. */
export interface OpenChange {
  readonly before: ReviewedSources;
  readonly after: ReviewedSources;
  /** From before to after. */
  readonly renames: ReadonlyMap<FileId, FileId>;
  /** Where a file of the side before is, if that is not where its id says. */
  placeBefore(file: FileId): FileId;
  /** What has to be said of what was read so far. Sentences without a stop. */
  notes(): readonly string[];
}

/** A side with a memory of its own. */
export const side = (sources: Sources, documents: readonly FileId[]): ReviewedSources => ({
  sources,
  documents,
  memo: createMemo(),
});
