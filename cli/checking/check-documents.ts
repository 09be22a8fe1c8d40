import { documentKind } from "../../core/model/document-kind.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import type { CachePlace } from "../../host/cache/result-cache.ts";
import type { RunOptions } from "../../host/pool/run-jobs.ts";
import { rootsOf, type Given } from "../documents.ts";
import { runJobs } from "../jobs/job-table.ts";

export interface CheckingOptions extends RunOptions {
  /** Where answers of earlier runs are; nothing is kept when absent. */
  readonly cache?: CachePlace;
  /** All documents of the run, where `documents` are a part: what belongs to their projects may be read too. */
  readonly among?: readonly Given[];
}

/** Checks many documents; answers stand in the order of `documents`, whichever is done first. */
export function checkDocuments(
  documents: readonly Given[],
  { cache, among = documents, ...options }: CheckingOptions = {},
): Promise<readonly CheckedDocument[]> {
  const files = documents.map(({ file }) => file);
  const hasShoots = files.some((file) => documentKind(file)?.kind === "shoot");
  const setting = { roots: rootsOf(among), hasShoots, ...(cache ? { cache } : {}) };
  return runJobs("check", setting, files, options);
}
