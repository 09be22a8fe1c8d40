import { setImmediate } from "node:timers/promises";
import type { Job } from "./job.ts";

/** What waits in this thread, progress and an abort, waits no longer than this and one input [ms]. */
const SLICE = 50;

/**
 * Does inputs in this thread, one after the other, until all are done or `isEnough` says so after one of them. Rejects with
 * the reason of `signal`, and with what opening the job throws.
 */
export async function doHere<Setting, Input, Output>(
  job: Job<Setting, Input, Output>,
  setting: Setting,
  inputs: ReadonlyMap<number, Input>,
  onOutput: (index: number, output: Output) => void,
  isEnough: () => boolean,
  signal?: AbortSignal,
): Promise<void> {
  if (inputs.size === 0) return;
  const work = job.open(setting);
  let rested = performance.now();
  for (const [index, input] of inputs) {
    signal?.throwIfAborted();
    onOutput(index, await answered(work, job, input));
    if (isEnough()) return;
    if (performance.now() - rested > SLICE) {
      await setImmediate();
      rested = performance.now();
    }
  }
}

/** The output for an input; where the work throws, what the job gives for that. */
export async function answered<Input, Output>(
  work: (input: Input) => Output | Promise<Output>,
  job: Pick<Job<never, Input, Output>, "failed">,
  input: Input,
): Promise<Output> {
  try {
    return await work(input);
  } catch (error) {
    return job.failed(input, error);
  }
}
