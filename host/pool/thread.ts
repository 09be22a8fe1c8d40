import { Worker } from "node:worker_threads";
import type { Batch, ThreadOrder, ThreadSays } from "./messages.ts";

/** What becomes of a thread and of the inputs that it was given. */
export interface ThreadEvents {
  onReady(): void;
  onOutput(index: number, output: unknown): void;
  /** The whole run can't go on. */
  onRefused(why: string): void;
  /** Once, unless it was ended: it could not start (`isStarted` false), or died. Nothing is heard of it afterwards. */
  onGone(reason: Error, isStarted: boolean): void;
}

export interface ThreadStart {
  /** The program's own file, which has to call `serveJobs` in a thread. */
  readonly script: string;
  /** Most memory for what the thread keeps [MiB]; as Node has it when absent. */
  readonly heap?: number;
  readonly order: ThreadOrder;
}

export interface Thread {
  ask(batch: Batch): void;
  end(): Promise<unknown>;
}

/** Starts the program's own file as a thread. */
export function startThread({ script, heap, order }: ThreadStart, events: ThreadEvents): Thread {
  const resourceLimits = heap === undefined ? {} : { maxOldGenerationSizeMb: heap };
  // The one file needs nothing that this process was started with, such as a loader of sources.
  const worker = new Worker(script, { workerData: order, resourceLimits, execArgv: [] });
  let isStarted = false;
  let isOver = false;
  let reason: Error | undefined;
  const gone = (why: Error): void => {
    if (isOver) return;
    isOver = true;
    events.onGone(why, isStarted);
  };
  worker.on("message", (says: ThreadSays) => {
    if (isOver) return;
    if ("index" in says) events.onOutput(says.index, says.output);
    else if ("ready" in says) {
      isStarted = true;
      events.onReady();
    } else if ("refused" in says) events.onRefused(says.refused);
    else gone(new Error("its work could not be opened"));
  });
  worker.on("error", (error) => (reason = error instanceof Error ? error : new Error(String(error))));
  worker.on("messageerror", (error) => {
    reason = error;
    void worker.terminate();
  });
  worker.on("exit", (code) => gone(reason ?? new Error(`its thread ended with code ${code}`)));
  return {
    ask: (batch) => worker.postMessage(batch),
    end() {
      isOver = true;
      return worker.terminate();
    },
  };
}
