import type { AnyJob } from "./job.ts";
import { startThread, type Thread } from "./thread.ts";

/** Why a run of a job ended in a thread: what its `failed` threw there, in its words. */
export class JobRefused extends Error {
  override readonly name = "JobRefused";
}

/** Inputs that are handed to a thread at once: what it keeps stays warm, and the last ones are spread. */
const MOST_AT_ONCE = 32;
/** An input whose thread dies is tried again alone in a new one: it may have been the memory of all before it. */
const TRIES = 2;
const NO_THREAD = new Error("its thread ended, and no other could be started");

export interface PoolWork {
  /** The program's own file. */
  readonly script: string;
  readonly heap?: number;
  readonly kind: string;
  readonly job: AnyJob;
  readonly setting: unknown;
  /** Inputs that are still to do, by their positions. */
  readonly inputs: ReadonlyMap<number, unknown>;
  readonly threads: number;
  readonly onOutput: (index: number, output: unknown) => void;
  readonly signal?: AbortSignal;
}

/** One thread and what it was given and has not answered, in the order in which it does it. */
interface Hand {
  readonly thread: Thread;
  readonly given: number[];
}

/**
 * Does inputs in threads. Resolves when each has its output or no thread can be started; what then has none is left to the
 * caller. A thread that dies is replaced. Rejects with the reason of
 * `signal`, and with `JobRefused`.
 */
export function doInThreads(work: PoolWork): Promise<void> {
  const { script, heap, kind, setting, inputs, job, signal } = work;
  const waiting = [...inputs.keys()];
  const tries = new Map<number, number>();
  const hands = new Set<Hand>();
  let isOver = false;
  return new Promise((resolve, reject) => {
    const finish = (settle: () => void): void => {
      if (isOver) return;
      isOver = true;
      signal?.removeEventListener("abort", abort);
      // Where no thread starts any more, the caller must not die of what a thread died of.
      for (const index of waiting) if (tries.has(index)) work.onOutput(index, job.failed(inputs.get(index), NO_THREAD));
      void Promise.all([...hands].map(({ thread }) => thread.end())).then(settle, settle);
    };
    const abort = (): void => finish(() => reject(signal?.reason as Error));
    const settleWhenDone = (): void => {
      if (hands.size === 0 || (waiting.length === 0 && [...hands].every(({ given }) => given.length === 0))) {
        finish(resolve);
      }
    };
    const feed = ({ thread, given }: Hand): void => {
      const batch = waiting.splice(0, batchSize(waiting, tries, work.threads));
      given.push(...batch);
      if (batch.length > 0) thread.ask(batch.map((index) => ({ index, input: inputs.get(index) })));
      else settleWhenDone();
    };
    const start = (): void => {
      const given: number[] = [];
      const thread = startThread(
        { script, heap, order: { kind, setting } },
        {
          onReady: () => feed(hand),
          onOutput(index, output) {
            given.splice(given.indexOf(index), 1);
            work.onOutput(index, output);
            if (given.length === 0) feed(hand);
          },
          onRefused: (why) => finish(() => reject(new JobRefused(why))),
          onGone(reason, isStarted) {
            hands.delete(hand);
            void thread.end();
            const [died, ...rest] = given;
            waiting.unshift(...rest);
            if (died !== undefined) bury(died, reason);
            if (isStarted && waiting.length > 0) start();
            settleWhenDone();
          },
        },
      );
      const hand: Hand = { thread, given };
      hands.add(hand);
    };
    const bury = (index: number, reason: Error): void => {
      const count = (tries.get(index) ?? 0) + 1;
      tries.set(index, count);
      if (count < TRIES) waiting.unshift(index);
      else work.onOutput(index, job.failed(inputs.get(index), reason));
    };
    if (signal?.aborted) return reject(signal.reason as Error);
    signal?.addEventListener("abort", abort);
    for (let i = 0; i < Math.min(work.threads, waiting.length); i++) start();
    settleWhenDone();
  });
}

/** Fewer and fewer towards the end, so that all threads end together; alone what a thread died of. */
function batchSize(waiting: readonly number[], tries: ReadonlyMap<number, number>, threads: number): number {
  if (waiting.length > 0 && tries.has(waiting[0])) return 1;
  return Math.min(MOST_AT_ONCE, Math.ceil(waiting.length / (threads * 4)));
}
