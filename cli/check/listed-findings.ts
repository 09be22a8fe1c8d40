import { existsSync } from "node:fs";
import { plainWords } from "../../core/base/plain-words.ts";
import type { FileId } from "../../core/base/span.ts";
import type { ReportedDocument } from "../../core/exchange/check-report.ts";
import { markKnownByList } from "../../core/exchange/known-findings.ts";
import { pathOfFile } from "../../host/file-path.ts";
import { fileOfEntry, type BaselineEntry } from "./baseline.ts";

/** Entries that no longer apply which are named; the rest are counted. */
const MOST_NAMED = 10;

/**
 * Marks what a baseline lists as known. What it lists and is not found any more is told, of the documents that were checked
 * and of those that are gone: the list is to become shorter.
 */
export function markListed(
  documents: readonly ReportedDocument[],
  path: string,
  entries: readonly BaselineEntry[],
): { readonly documents: readonly ReportedDocument[]; readonly notes: readonly string[] } {
  const left = new Map<FileId, Map<string, number>>();
  for (const entry of entries) {
    const file = fileOfEntry(path, entry);
    const own = left.get(file) ?? new Map<string, number>();
    left.set(file, own.set(nameOf(entry), (own.get(nameOf(entry)) ?? 0) + entry.count));
  }
  const marked = documents.map((document) => {
    const own = left.get(document.file);
    return own ? { ...document, findings: markKnownByList(document.findings, own) } : document;
  });
  const checked = new Set(documents.map(({ file }) => file));
  const isJudged = (file: FileId): boolean => checked.has(file) || !existsSync(pathOfFile(file));
  const stale = entries.filter((entry) => {
    const file = fileOfEntry(path, entry);
    return isJudged(file) && (left.get(file)?.get(nameOf(entry)) ?? 0) > 0;
  });
  return { documents: marked, notes: staleNotes(path, stale) };
}

/** As `identity` of a finding. */
const nameOf = ({ code, element }: BaselineEntry): string => `${code} ${element}`;

function staleNotes(path: string, stale: readonly BaselineEntry[]): string[] {
  if (stale.length === 0) return [];
  const named = stale
    .slice(0, MOST_NAMED)
    .map(({ code, element, path: own }) => `  ${plainWords(`${own}: ${code} at ${element}`)}`);
  const more = stale.length > MOST_NAMED ? [`  and ${stale.length - MOST_NAMED} more`] : [];
  const said = `${path} lists findings that are not there any more; write it again with --write-baseline:`;
  return [said, ...named, ...more];
}
