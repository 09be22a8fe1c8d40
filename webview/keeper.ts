import type { Bridge } from "./bridge.ts";
import { readState, type KeptState } from "./state.ts";

/** What is kept is written this long after the last change [ms]. */
const PAUSE = 250;

/** The page's choices, kept for when it is hidden or the editor restarts. */
export interface Keeper {
  now(): KeptState;
  keep(changes: Partial<KeptState>): void;
}

export function createKeeper(bridge: Bridge): Keeper {
  let kept = readState(bridge.kept());
  let waiting: number | undefined;
  const write = (): void => {
    window.clearTimeout(waiting);
    waiting = undefined;
    bridge.keep(kept);
  };
  // A page that is closed within the pause must not lose its last change.
  window.addEventListener("pagehide", () => {
    if (waiting !== undefined) write();
  });
  return {
    now: () => kept,
    keep(changes) {
      kept = { ...kept, ...changes };
      window.clearTimeout(waiting);
      waiting = window.setTimeout(write, PAUSE);
    },
  };
}
