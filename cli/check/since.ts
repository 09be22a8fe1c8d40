import { realpathSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { sameData } from "../../core/base/same-data.ts";
import type { FileId } from "../../core/base/span.ts";
import { breakingChanges } from "../../core/exchange/breaking-changes.ts";
import type { BreakingChange, ReportedDocument } from "../../core/exchange/check-report.ts";
import type { CheckedDocument } from "../../core/exchange/checked-document.ts";
import { markKnownByBase } from "../../core/exchange/known-findings.ts";
import type { SourceState, Sources } from "../../core/model/sources.ts";
import { diskSources } from "../../host/disk-sources.ts";
import { fileOfPath, pathOfFile } from "../../host/file-path.ts";
import { openComparison, type Comparison } from "../../host/git/comparison.ts";
import { GitFailure } from "../../host/git/git-failure.ts";
import { mergeBase, resolveRevision } from "../../host/git/revision.ts";
import { nameInRepository, openRepository } from "../../host/git/repository.ts";
import { JobRefused } from "../../host/pool/thread-pool.ts";
import { checkBase } from "../checking/check-documents.ts";
import { atWork, type WorkOptions } from "../checking/work.ts";
import { Failure } from "../failure.ts";
import { changedFilesAmong } from "./changed-files.ts";

export interface Compared {
  readonly documents: readonly ReportedDocument[];
  readonly breaking: readonly BreakingChange[];
  readonly notes: readonly string[];
}

/**
 * Compares what was found with what a revision has: with the last commit that it and `HEAD` have in common, so that what
 * others mended meanwhile is not told as new. A document of which no input is another one has the same findings; only the
 * rest is checked again as it was. Throws `Failure` where git can't give that revision.
 */
export async function compareWithBase(
  documents: readonly CheckedDocument[],
  since: string,
  roots: readonly string[],
  options: WorkOptions,
): Promise<Compared> {
  const comparison = attempted(() => openBase(since, diskSources(roots)));
  const idOf = idsIn(comparison);
  const isSame = (file: FileId): boolean => {
    const id = idOf(file);
    return id === undefined || sameState(comparison.before.sources.read(id), comparison.after.sources.read(id));
  };
  const outside = documents.filter(({ file }) => idOf(file) === undefined);
  const idBefore = new Map(
    documents.flatMap(({ file, inputs }) => {
      const id = idOf(file);
      const isOther = id !== undefined && (comparison.renamed.has(id) || !inputs.every(isSame));
      return isOther ? [[file, comparison.renamed.get(id) ?? id] as const] : [];
    }),
  );
  const before = await checkBefore([...idBefore.values()], comparison, roots, options);
  const marked = documents.map((document): ReportedDocument => {
    if (idOf(document.file) === undefined) return document;
    const id = idBefore.get(document.file);
    const findings = id === undefined ? allKnown(document) : markKnownByBase(document.findings, before(id));
    return { ...document, findings };
  });
  const changed = changedFilesAmong(marked, comparison, idOf);
  const notes = [
    ...comparison.notes(),
    ...(outside.length === 0 ? [] : [`${outside.length} of the documents are outside of the repository: all findings in them count as new`]), // prettier-ignore
  ];
  return { documents: marked, breaking: breakingChanges(marked, changed), notes };
}

function openBase(since: string, disk: Sources): Comparison {
  const folder = process.cwd();
  const repository = openRepository(folder);
  const base = resolveRevision(repository, since);
  const head = resolveRevision(repository, "HEAD");
  return openComparison(folder, mergeBase(repository, base, head).commit, disk);
}

function attempted<T>(act: () => T): T {
  try {
    return act();
  } catch (error) {
    if (error instanceof GitFailure) throw new Failure(error.message);
    throw error;
  }
}

const allKnown = ({ findings }: CheckedDocument): ReportedDocument["findings"] =>
  findings.map((one) => (one.allowed === undefined ? { ...one, known: "base" } : one));

/** Ids of files as the comparison has them, links to the repository followed; `undefined` for a file outside of it. */
function idsIn({ repository }: Comparison): (file: FileId) => FileId | undefined {
  const known = new Map<string, string>();
  const real = (folder: string): string => {
    const kept = known.get(folder) ?? realFolder(folder);
    known.set(folder, kept);
    return kept;
  };
  return (file) => {
    if (nameInRepository(repository, file) !== undefined) return file;
    const path = pathOfFile(file);
    const id = fileOfPath(join(real(dirname(path)), basename(path)));
    return nameInRepository(repository, id) === undefined ? undefined : id;
  };
}

function realFolder(folder: string): string {
  try {
    return realpathSync(folder);
  } catch {
    // Gone, or never there: a file that is looked for in it is missing on both sides.
    return folder;
  }
}

function sameState(a: SourceState, b: SourceState): boolean {
  if (a.state === "bytes" && b.state === "bytes") return a.size === b.size && a.stamp === b.stamp;
  return sameData(a, b);
}

/** What was found in documents as they were. One that was not there has no findings. */
async function checkBefore(
  files: readonly FileId[],
  { before: { sources }, repository, range }: Comparison,
  roots: readonly string[],
  options: WorkOptions,
): Promise<(file: FileId) => CheckedDocument["findings"]> {
  const there = files.filter((file) => sources.read(file).state !== "missing");
  const revision = { roots, folder: repository.top, commit: range.before.commit };
  try {
    const checked = await atWork(options, "documents checked as they were", (work) => checkBase(there, revision, work));
    const findings = new Map(checked.map((one) => [one.file, one.findings]));
    return (file) => findings.get(file) ?? [];
  } catch (error) {
    if (error instanceof JobRefused) throw new Failure(error.message);
    throw attempted(() => {
      throw error;
    });
  }
}
