import type { FileId } from "../../core/base/span.ts";
import { runToEnd } from "../../core/base/task.ts";
import { analyse, createMemo } from "../../core/checks/analyse.ts";
import { checkedDocument, failedDocument } from "../../core/exchange/check-document.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import { isCheckedDocument } from "../../core/exchange/checked-shape.ts";
import { textBook } from "../../core/exchange/text-book.ts";
import { diskSources } from "../../host/disk-sources.ts";
import { keptJob, type KeptSetting } from "../../host/cache/kept-job.ts";

export interface CheckSetting extends KeptSetting {
  /** Folders within which files may be read. */
  readonly roots: readonly string[];
  /** Whether shoots are among the documents: they ask for solved moves again. */
  readonly hasShoots: boolean;
}

/** Checks documents one by one. */
export const checkJob = keptJob<CheckSetting, FileId, CheckedDocument>("check", {
  sides: ({ roots }) => ({ now: diskSources(roots) }),
  open({ hasShoots }, { now }) {
    const memo = createMemo();
    const texts = textBook(now, memo);
    return (file) => {
      const document = checkedDocument(runToEnd(analyse(file, now, memo)), texts);
      // Hundreds of motions that nobody asks for again would only take memory.
      if (document.kind === "move" && !hasShoots) memo.forget(file);
      return document;
    };
  },
  failed: (file, error) => failedDocument(file, "Checking this document", error),
  question: (file) => file,
  inputs: ({ inputs }) => ({ now: inputs }),
  // What failed inside the program may not fail again.
  isOutput: (value): value is CheckedDocument =>
    isCheckedDocument(value) && value.findings.every(({ code }) => code !== "internal-error"),
});
