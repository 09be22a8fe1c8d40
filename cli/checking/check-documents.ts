import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import type { RunOptions } from "../../host/pool/run-jobs.ts";
import { rootsOf, type Given } from "../documents.ts";
import { runJobs } from "../jobs/job-table.ts";

export type CheckingOptions = RunOptions;

/** Checks many documents; answers stand in the order of `documents`, whichever is done first. */
export function checkDocuments(
  documents: readonly Given[],
  options: CheckingOptions = {},
): Promise<readonly CheckedDocument[]> {
  return runJobs("check", { roots: rootsOf(documents) }, documents.map(({ file }) => file), options); // prettier-ignore
}
