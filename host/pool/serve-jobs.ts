import { isMainThread, parentPort, workerData } from "node:worker_threads";
import { answered } from "./do-here.ts";
import type { AnyJob, JobTable } from "./job.ts";
import type { Batch, ThreadOrder, ThreadSays } from "./messages.ts";

/** Whether the program was started as a thread that is to call `serveJobs`. */
export const isPoolThread = (): boolean => !isMainThread;

/** The life of a thread of the pool: it does the batches that it is given, one input after the other. */
export function serveJobs(jobs: JobTable): void {
  const port = parentPort;
  if (!port) throw new Error("serveJobs was called outside of a thread of the pool.");
  const say = (message: ThreadSays): void => port.postMessage(message);
  const { kind, setting } = workerData as ThreadOrder;
  const job = jobs[kind] as AnyJob;
  let opened: ReturnType<AnyJob["open"]>;
  try {
    opened = job.open(setting);
  } catch {
    // The thread that started this one opens the job itself and hears why.
    say({ unopened: true });
    return;
  }
  port.on("message", (batch: Batch) => void doAll(batch));
  say({ ready: true });

  async function doAll(batch: Batch): Promise<void> {
    try {
      for (const { index, input } of batch) await doOne(index, input);
    } catch (error) {
      say({ refused: error instanceof Error ? error.message : String(error) });
    }
  }

  async function doOne(index: number, input: unknown): Promise<void> {
    const output = await answered(opened, job, input);
    try {
      say({ index, output });
    } catch (error) {
      // What can't go from thread to thread.
      say({ index, output: job.failed(input, error) });
    }
  }
}
