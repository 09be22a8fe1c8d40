import type { Task } from "../core/base/task.ts";

/** What the user waits for comes first. */
export const URGENCIES = ["shown", "asked", "background"] as const;
export type Urgency = (typeof URGENCIES)[number];

/** What became of a task. `dropped`: nobody wanted it any more. */
export type Outcome<T> =
  | { readonly state: "done"; readonly value: T }
  | { readonly state: "dropped" }
  | { readonly state: "failed"; readonly error: unknown };

export interface Scheduler {
  /**
   * Runs `task` in slices, between which the server answers requests. `wanted` is asked before every slice.
   * Never rejects: what the task throws is the outcome `failed`.
   */
  run<T>(task: Task<T>, urgency: Urgency, wanted: () => boolean): Promise<Outcome<T>>;
}

/** What a host gives: a clock in milliseconds and a way to let waiting messages in. */
export interface Beat {
  now(): number;
  pause(): Promise<void>;
}

/** How long one slice may keep the server from its messages [ms]. A task that yields rarely takes longer. */
export const SLICE_MS = 8;

interface Waiting {
  readonly urgency: Urgency;
  readonly wanted: () => boolean;
  /** Goes on until `deadline`; true when the task is over. */
  readonly advance: (deadline: number) => boolean;
  readonly drop: () => void;
}

export function createScheduler(beat: Beat): Scheduler {
  const waiting: Waiting[] = [];
  let running = false;

  const loop = async () => {
    running = true;
    while (waiting.length > 0) {
      await beat.pause();
      const next = mostUrgent(waiting);
      if (!next) break;
      const over = next.wanted() ? next.advance(beat.now() + SLICE_MS) : (next.drop(), true);
      if (over) waiting.splice(waiting.indexOf(next), 1);
    }
    running = false;
  };

  return {
    run: <T>(task: Task<T>, urgency: Urgency, wanted: () => boolean) =>
      new Promise<Outcome<T>>((resolve) => {
        const advance = (deadline: number) => {
          try {
            do {
              const step = task.next();
              if (step.done) {
                resolve({ state: "done", value: step.value });
                return true;
              }
            } while (beat.now() < deadline);
            return false;
          } catch (error) {
            resolve({ state: "failed", error });
            return true;
          }
        };
        const drop = () => resolve({ state: "dropped" });
        waiting.push({ urgency, wanted, advance, drop });
        if (!running) void loop();
      }),
  };
}

/** The oldest of the most urgent. */
function mostUrgent(waiting: readonly Waiting[]): Waiting | undefined {
  for (const urgency of URGENCIES) {
    const found = waiting.find((entry) => entry.urgency === urgency);
    if (found) return found;
  }
  return undefined;
}
