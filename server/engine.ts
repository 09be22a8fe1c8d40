import { analyse, analyseText, createMemo, type AnalysisMemo } from "../core/checks/analyse.ts";
import { treeOf } from "../core/model/tree-of.ts";
import { sideOf } from "../core/review/review-side.ts";
import type { Engine } from "./analyses.ts";

/** Core's analysis with what it keeps between runs: a move whose meaning is the same is not solved again. */
export function createEngine(): Engine {
  const memo = createMemo();
  const aside = (): AnalysisMemo => {
    const tried = createMemo();
    for (const [each, document] of memo.documents) tried.documents.set(each, document);
    return tried;
  };
  return {
    analyseText: (file, sources) => analyseText(file, sources, memo),
    analyse: (file, sources) => analyse(file, sources, memo),
    // A trial keeps nothing, or it would push out what is kept of the real text. It begins with the documents as they are read.
    trial: (file, sources) => analyse(file, sources, aside()),
    aside,
    tree: (file, text) => treeOf(memo.documents, file, text),
    side: (analysis, sources) => sideOf(analysis, sources, memo),
    forget: (file) => memo.forget(file),
  };
}
