import type { FileId } from "../../core/base/span.ts";
import { runToEnd } from "../../core/base/task.ts";
import { analyse, createMemo } from "../../core/checks/analyse.ts";
import { checkedDocument, failedDocument } from "../../core/exchange/check-document.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import { textBook } from "../../core/exchange/text-book.ts";
import { diskSources } from "../../host/disk-sources.ts";
import type { Job } from "../../host/pool/job.ts";

export interface CheckSetting {
  /** Folders within which files may be read. */
  readonly roots: readonly string[];
}

/** Checks documents one by one. */
export const checkJob: Job<CheckSetting, FileId, CheckedDocument> = {
  open({ roots }) {
    const sources = diskSources(roots);
    const memo = createMemo();
    const texts = textBook(sources, memo);
    return (file) => checkedDocument(runToEnd(analyse(file, sources, memo)), texts);
  },
  failed: (file, error) => failedDocument(file, "Checking this document", error),
};
