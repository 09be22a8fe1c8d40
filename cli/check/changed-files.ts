import type { FileId } from "../../core/base/span.ts";
import type { ChangedFile } from "../../core/exchange/breaking-changes.ts";
import { changedLines } from "../../core/exchange/changed-lines.ts";
import type { ReportedDocument } from "../../core/exchange/check-report.ts";
import type { SourceState } from "../../core/model/sources.ts";
import type { Comparison } from "../../host/git/comparison.ts";

/** Files that documents with new findings are made from and that are other ones than in the base, by the documents' own ids. */
export function changedFilesAmong(
  documents: readonly ReportedDocument[],
  { before, after, renamed }: Comparison,
  idOf: (file: FileId) => FileId | undefined,
): Map<FileId, ChangedFile> {
  const files = new Set(
    documents
      .filter(({ findings }) => findings.some(({ known }) => known === undefined))
      .flatMap(({ file, inputs }) => [file, ...inputs]),
  );
  const changed = new Map<FileId, ChangedFile>();
  for (const file of files) {
    const id = idOf(file);
    if (id === undefined) continue;
    const one = changedFile(before.sources.read(renamed.get(id) ?? id), after.sources.read(id));
    if (one) changed.set(file, one);
  }
  return changed;
}

function changedFile(was: SourceState, is: SourceState): ChangedFile | undefined {
  if (is.state === "text") {
    const lines = changedLines(was.state === "text" ? was.text : "", is.text);
    return lines.length === 0 ? undefined : { lines, fields: [], isMeaningSame: false };
  }
  const isSame = is.state === was.state && (is.state !== "bytes" || was.state !== "bytes" || is.stamp === was.stamp);
  return isSame ? undefined : { lines: [], fields: [], isMeaningSame: false };
}
