import type { FileId } from "../../core/base/span.ts";
import { runToEnd } from "../../core/base/task.ts";
import { analyse, createMemo } from "../../core/checks/analyse.ts";
import { checkedDocument, failedDocument } from "../../core/exchange/check-document.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import { isCheckedDocument } from "../../core/exchange/checked-shape.ts";
import { textBook } from "../../core/exchange/text-book.ts";
import { diskSources } from "../../host/disk-sources.ts";
import { openComparison } from "../../host/git/comparison.ts";
import { GitFailure } from "../../host/git/git-failure.ts";
import { keptJob, type KeptSetting } from "../../host/cache/kept-job.ts";

export interface CheckSetting extends KeptSetting {
  /** Folders within which files may be read. */
  readonly roots: readonly string[];
  /** The revision that is looked at in place of the disk, and the folder whose repository has it. */
  readonly base?: { readonly folder: string; readonly commit: string };
  /** Whether shoots are among the documents: they ask for solved moves again. */
  readonly hasShoots: boolean;
}

/** Checks documents one by one. */
export const checkJob = keptJob<CheckSetting, FileId, CheckedDocument>("check", {
  sides({ roots, base }) {
    const disk = diskSources(roots);
    // What a file was has the same answer as what it is, where its content is the same.
    return { now: base ? openComparison(base.folder, base.commit, disk).before.sources : disk };
  },
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
  failed(file, error) {
    // A revision that can't be read is no fault of a document, nor of the program.
    if (error instanceof GitFailure) throw error;
    return failedDocument(file, "Checking this document", error);
  },
  question: (file) => file,
  inputs: ({ inputs }) => ({ now: inputs }),
  // What failed inside the program may not fail again.
  isOutput: (value): value is CheckedDocument =>
    isCheckedDocument(value) && value.findings.every(({ code }) => code !== "internal-error"),
});
