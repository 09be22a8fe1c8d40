import type { CancellationToken } from "vscode-languageserver";

/** Something that happens again and again and that may be waited for. */
export interface Signal {
  fire(): void;
  /** Resolves at the next `fire`, or when the token is cancelled. */
  next(token: CancellationToken): Promise<void>;
}

export function createSignal(): Signal {
  let waiting: (() => void)[] = [];
  return {
    fire() {
      const woken = waiting;
      waiting = [];
      for (const wake of woken) wake();
    },
    next: (token) =>
      new Promise((resolve) => {
        if (token.isCancellationRequested) return resolve();
        waiting.push(resolve);
        token.onCancellationRequested(() => {
          waiting = waiting.filter((wake) => wake !== resolve);
          resolve();
        });
      }),
  };
}

/** Calls `work` once, `timeMs` after the last of many calls. */
export function debounced(timeMs: number, work: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  return () => {
    if (timer !== undefined) clearTimeout(timer);
    timer = setTimeout(work, timeMs);
  };
}
