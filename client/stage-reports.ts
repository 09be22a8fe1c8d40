import type { StageState } from "../protocol/stage.ts";

/** How long the stage has to answer [ms]. */
const PATIENCE_MS = 10_000;

/** Questions to the stage that wait for their answers. */
export interface Reports {
  ask(): Promise<StageState>;
  answer(id: number, state: StageState): void;
  closed(): void;
}

export function createReports(send: (id: number) => void): Reports {
  const waiting = new Map<number, { resolve(state: StageState): void; reject(error: Error): void }>();
  let last = 0;
  const end = (id: number) => {
    const entry = waiting.get(id);
    waiting.delete(id);
    return entry;
  };
  return {
    ask: () =>
      new Promise((resolve, reject) => {
        const id = (last += 1);
        waiting.set(id, { resolve, reject });
        setTimeout(() => end(id)?.reject(new Error("The stage does not answer.")), PATIENCE_MS);
        send(id);
      }),
    answer: (id, state) => end(id)?.resolve(state),
    closed() {
      for (const id of [...waiting.keys()]) end(id)?.reject(new Error("The stage was closed."));
    },
  };
}
