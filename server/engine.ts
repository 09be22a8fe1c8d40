import { analyse, analyseText, createMemo } from "../core/checks/analyse.ts";
import type { Engine } from "./analyses.ts";

/** Core's analysis with what it keeps between runs: a move whose meaning is the same is not solved again. */
export function createEngine(): Engine {
  const memo = createMemo();
  return {
    analyseText: (file, sources) => analyseText(file, sources, memo),
    analyse: (file, sources) => analyse(file, sources, memo),
    // A trial keeps nothing, or it would push out what is kept of the real text.
    trial: (file, sources) => analyse(file, sources, createMemo()),
  };
}
