import { availableParallelism } from "node:os";
import { doHere } from "./do-here.ts";
import type { AnyJob, Job } from "./job.ts";
import { programScript } from "./program-script.ts";
import { doInThreads } from "./thread-pool.ts";

export interface RunOptions {
  /** Threads at most, as many as there are cores for the program when absent; 1 starts none. */
  readonly workers?: number;
  readonly onProgress?: (done: number, all: number) => void;
  readonly signal?: AbortSignal;
  /** The program's own file, for a program that is not run from it. */
  readonly script?: string;
  /** Most memory for what a thread keeps [MiB]; as Node has it when absent. */
  readonly heap?: number;
  /** How long this thread works alone before it starts others [ms]: starting them takes longer than a few documents. */
  readonly patience?: number;
}

const PATIENCE = 250;
/** Other threads are worth their start when about this much is left to do [ms]. */
const WORTH = 600;

/**
 * Does a job on many inputs, in threads where that is worth it. Outputs stand in the order of the inputs, and are the same
 * whatever does them. Where the program fails on an input, or its thread dies, its output is what the job gives for that.
 * Rejects with the reason of `signal`, with what opening the job or its `failed` throws, in a thread as `JobRefused`.
 *
 * @param kind The job's name in the table that `serveJobs` is called with in a thread.
 */
export async function runJobs<Setting, Input, Output>(
  kind: string,
  job: Job<Setting, Input, Output>,
  setting: Setting,
  inputs: readonly Input[],
  options: RunOptions = {},
): Promise<readonly Output[]> {
  const { workers = availableParallelism(), onProgress, signal, heap, script = programScript() } = options;
  if (inputs.length === 0) return [];
  const outputs = new Map<number, Output>();
  const keep = (index: number, output: Output): void => {
    outputs.set(index, output);
    onProgress?.(outputs.size, inputs.length);
  };
  const waiting = (): Map<number, Input> => new Map([...inputs.entries()].filter(([index]) => !outputs.has(index)));
  const opened = job.open(setting);
  for (const [index, input] of inputs.entries()) {
    signal?.throwIfAborted();
    const known = opened.known?.(input);
    if (known !== undefined) keep(index, known);
  }
  const isSlow = slowness(waiting().size, options.patience ?? PATIENCE);
  const isEnough = (): boolean => script !== undefined && workers > 1 && isSlow(inputs.length - outputs.size);
  await doHere(opened, job, waiting(), keep, isEnough, signal);
  if (outputs.size < inputs.length && script !== undefined) {
    await doInThreads({
      script,
      kind,
      job: job as unknown as AnyJob,
      setting,
      inputs: waiting(),
      threads: workers,
      onOutput: (index, output) => keep(index, output as Output),
      ...(signal ? { signal } : {}),
      ...(heap === undefined ? {} : { heap }),
    });
    // Where no thread could be started.
    await doHere(opened, job, waiting(), keep, () => false, signal);
  }
  return inputs.map((_, index) => outputs.get(index) as Output);
}

/** Tells whether what is left will take long, from how long it took so far. */
function slowness(all: number, patience: number): (left: number) => boolean {
  const begun = performance.now();
  return (left) => {
    const spent = performance.now() - begun;
    return spent >= patience && (left * spent) / (all - left) > Math.min(WORTH, 2 * patience);
  };
}
