import type { Job, JobTable } from "../../host/pool/job.ts";
import { runJobs as runInPool, type RunOptions } from "../../host/pool/run-jobs.ts";
import { reviewJob } from "../diff/review-job.ts";
import { reportJob } from "../report/report-job.ts";
import { checkJob } from "./check-job.ts";

/** All that the command line does on many documents, by the names under which its threads know it. */
export const JOBS = {
  check: checkJob,
  review: reviewJob,
  report: reportJob,
} satisfies JobTable;

type Kind = keyof typeof JOBS;
type PartsOf<K extends Kind> =
  (typeof JOBS)[K] extends Job<infer Setting, infer Input, infer Output>
    ? { readonly setting: Setting; readonly input: Input; readonly output: Output }
    : never;

/** Does one of the jobs on many inputs with all cores. Outputs stand in the order of the inputs. */
export function runJobs<K extends Kind>(
  kind: K,
  setting: PartsOf<K>["setting"],
  inputs: readonly PartsOf<K>["input"][],
  options: RunOptions = {},
): Promise<readonly PartsOf<K>["output"][]> {
  const job = JOBS[kind] as unknown as Job<unknown, unknown, PartsOf<K>["output"]>;
  return runInPool(kind, job, setting, inputs, options);
}
