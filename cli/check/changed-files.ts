import type { FileId } from "../../core/base/span.ts";
import { runToEnd } from "../../core/base/task.ts";
import { createMemo } from "../../core/checks/analyse.ts";
import type { ChangedField, ChangedFile } from "../../core/exchange/breaking-changes.ts";
import { changedLines, type LineRange } from "../../core/exchange/changed-lines.ts";
import type { ReportedDocument } from "../../core/exchange/check-report.ts";
import { textBook, type TextBook } from "../../core/exchange/text-book.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { FieldChange } from "../../core/review/review.ts";
import { reviewDocument } from "../../core/review/review-document.ts";
import { reviewSide } from "../../core/review/review-side.ts";
import type { SourceState } from "../../core/model/sources.ts";
import type { Comparison } from "../../host/git/comparison.ts";

/** Files that documents with new findings are made from and that are other ones than in the base, by the documents' own ids. */
export function changedFilesAmong(
  documents: readonly ReportedDocument[],
  comparison: Comparison,
  idOf: (file: FileId) => FileId | undefined,
): Map<FileId, ChangedFile> {
  const files = new Set(
    documents
      .filter(({ findings }) => findings.some(({ known }) => known === undefined))
      .flatMap(({ file, inputs }) => [file, ...inputs]),
  );
  const changed = new Map<FileId, ChangedFile>();
  const look = fileReader(comparison);
  for (const file of files) {
    const id = idOf(file);
    const one = id === undefined ? undefined : look(id);
    if (one) changed.set(file, one);
  }
  return changed;
}

/** Looks at one file on both sides; `undefined` for one that is the same. */
function fileReader({ before, after, renamed }: Comparison): (id: FileId) => ChangedFile | undefined {
  const memos = { before: createMemo(), after: createMemo() };
  const texts = textBook(after.sources, memos.after);
  return (id) => {
    const old = renamed.get(id) ?? id;
    const [was, is] = [before.sources.read(old), after.sources.read(id)];
    if (is.state !== "text") return isSameFile(was, is) ? undefined : { lines: [], fields: [], isMeaningSame: false };
    const lines = changedLines(was.state === "text" ? was.text : "", is.text);
    if (lines.length === 0) return undefined;
    const kind = documentKind(id)?.kind;
    // A move tells of its own changes by itself, and looking closer would solve it again.
    if (kind === undefined || kind === "move" || kind === "shoot") return { lines, fields: [], isMeaningSame: false };
    const sides = [
      runToEnd(reviewSide(old, before.sources, memos.before)),
      runToEnd(reviewSide(id, after.sources, memos.after)),
    ] as const;
    const { fields, isMeaningSame } = reviewDocument(...sides, { renames: renamed });
    return { lines, fields: fields.map((field) => changedField(field, lines, texts)), isMeaningSame };
  };
}

function isSameFile(was: SourceState, is: SourceState): boolean {
  return is.state === was.state && (is.state !== "bytes" || was.state !== "bytes" || is.stamp === was.stamp);
}

/** A field with its place in the text after; one that is gone stands where lines are gone. */
function changedField(change: FieldChange, lines: readonly LineRange[], texts: TextBook): ChangedField {
  const { field, was, is, place } = change;
  const words =
    was === undefined
      ? `\`${field}\` is new${is === undefined ? "" : `: ${is}`}`
      : is === undefined
        ? `\`${field}\` is gone, which was ${was}`
        : `\`${field}\` was ${was} and is ${is}`;
  if (place.after) return { words, range: texts.range(place.after.file, place.after.span) };
  const gone = lines.find(({ start, end }) => start === end) ?? lines[0];
  const at = { line: gone.start, character: 0 };
  return { words, range: { start: at, end: at } };
}
