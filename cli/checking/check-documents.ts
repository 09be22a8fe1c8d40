import type { FileId } from "../../core/base/span.ts";
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

/** Checks many documents as they are on the disk; answers stand in the order of `documents`, whichever is done first. */
export function checkDocuments(
  documents: readonly Given[],
  { cache, among = documents, ...options }: CheckingOptions = {},
): Promise<readonly CheckedDocument[]> {
  const files = documents.map(({ file }) => file);
  const setting = { roots: rootsOf(among), hasShoots: hasShoot(files), ...(cache ? { cache } : {}) };
  return runJobs("check", setting, files, options);
}

/** Where documents are looked at as they were. */
export interface BaseRevision {
  readonly roots: readonly string[];
  readonly folder: string;
  readonly commit: string;
}

/** Checks documents as they were in a revision. Throws `GitFailure` or `JobRefused` where git can't give it. */
export function checkBase(
  files: readonly FileId[],
  { roots, folder, commit }: BaseRevision,
  { cache, ...options }: Omit<CheckingOptions, "among"> = {},
): Promise<readonly CheckedDocument[]> {
  const setting = { roots, hasShoots: hasShoot(files), base: { folder, commit }, ...(cache ? { cache } : {}) };
  return runJobs("check", setting, files, options);
}

const hasShoot = (files: readonly FileId[]): boolean => files.some((file) => documentKind(file)?.kind === "shoot");
