import { setImmediate } from "node:timers/promises";
import type { Job, OpenJob } from "./job.ts";

type Failing<Input, Output> = Pick<Job<never, Input, Output>, "failed">;

/** What waits in this thread, progress and an abort, waits no longer than this and one input [ms]. */
const SLICE = 50;

/**
 * Does inputs in this thread, one after the other, until all are done or `isEnough` says so after one of them. Rejects with
 * the reason of `signal`.
 */
export async function doHere<Input, Output>(
  opened: OpenJob<Input, Output>,
  job: Failing<Input, Output>,
  inputs: ReadonlyMap<number, Input>,
  onOutput: (index: number, output: Output) => void,
  isEnough: () => boolean,
  signal?: AbortSignal,
): Promise<void> {
  if (inputs.size === 0) return;
  let rested = performance.now();
  for (const [index, input] of inputs) {
    signal?.throwIfAborted();
    onOutput(index, await answered(opened, job, input));
    if (isEnough()) return;
    if (performance.now() - rested > SLICE) {
      await setImmediate();
      rested = performance.now();
    }
  }
}

/** The output for an input; where the work throws, what the job gives for that. */
export async function answered<Input, Output>(
  opened: OpenJob<Input, Output>,
  job: Failing<Input, Output>,
  input: Input,
): Promise<Output> {
  try {
    return await opened.work(input);
  } catch (error) {
    return job.failed(input, error);
  }
}
