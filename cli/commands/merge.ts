import { readFileSync, statSync } from "node:fs";
import type { Marks } from "../../core/merge/regions.ts";
import { mergeTexts, type MergedTexts } from "../../core/merge/merge-texts.ts";
import { replaceBytes, WriteRefused } from "../../host/write-file.ts";
import { Failure, type Outcome } from "../failure.ts";
import { MERGE_HINT } from "../merge-hint.ts";
import { plainWords } from "../../core/base/plain-words.ts";

export interface MergeOptions {
  readonly path?: string;
  readonly markerSize: string;
  readonly oursLabel?: string;
  readonly theirsLabel?: string;
  readonly print?: true;
}

/** Largest file that is read [bytes]. */
const MAX_BYTES = 256 * 1024 * 1024;

/**
 * `movewright merge`: two changes of one document made one, written to OURS as git asks its merge drivers to. Exit code 1
 * when conflicts are left in it.
 */
export function mergeCommand(files: readonly string[], options: MergeOptions): Outcome {
  if (files.length !== 3 || files.some((file) => /^%[A-Z]$/.test(file))) {
    throw new Failure(`merge takes three files, BASE OURS THEIRS, and is not for calling by hand: ${MERGE_HINT}`);
  }
  const [base, ours, theirs] = files.map(readBytes);
  const name = options.path ?? files[1];
  const { merged, bytes } = mergeBytes(name, { base, ours, theirs }, marksOf(options));
  const notes = notesOf(plainWords(name), merged);
  const exit = merged.conflicts > 0 ? 1 : 0;
  if (options.print) return { output: bytes.toString(), exit, notes };
  if (!bytes.equals(ours)) refusable(() => replaceBytes(files[1], ours, bytes));
  return { output: "", exit, notes };
}

function refusable<T>(act: () => T): T {
  try {
    return act();
  } catch (error) {
    if (error instanceof WriteRefused) throw new Failure(plainWords(error.message));
    throw error;
  }
}

function readBytes(path: string): Buffer {
  let why: string;
  try {
    if (statSync(path).size <= MAX_BYTES) return readFileSync(path);
    why = `it is larger than ${MAX_BYTES / 1024 / 1024} MB`;
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? String(error);
    why = { ENOENT: "it is not there", EISDIR: "it is a folder", EACCES: "it may not be read" }[code] ?? code;
  }
  throw new Failure(plainWords(`${path} cannot be merged: ${why}`));
}

/** Bytes that are no UTF-8 are merged by lines, each of them as it stands. */
function mergeBytes(
  name: string,
  bytes: { readonly base: Buffer; readonly ours: Buffer; readonly theirs: Buffer },
  marks: Marks,
): { readonly merged: MergedTexts; readonly bytes: Buffer } {
  const all = [bytes.base, bytes.ours, bytes.theirs];
  const texts = (coding: BufferEncoding): { base: string; ours: string; theirs: string } => ({
    base: bytes.base.toString(coding),
    ours: bytes.ours.toString(coding),
    theirs: bytes.theirs.toString(coding),
  });
  if (all.every((one) => Buffer.from(one.toString()).equals(one))) {
    const merged = mergeTexts(name, texts("utf8"), marks);
    return { merged, bytes: Buffer.from(merged.text) };
  }
  const raw = (text: string): string => Buffer.from(text).toString("latin1");
  const { ours, theirs, size } = marks;
  const merged = mergeTexts("", texts("latin1"), { ours: raw(ours), theirs: raw(theirs), size });
  const byLines = merged.byLines === undefined ? {} : { byLines: "it is not valid UTF-8" };
  return { merged: { ...merged, ...byLines }, bytes: Buffer.from(merged.text, "latin1") };
}

function marksOf({ markerSize, oursLabel, theirsLabel }: MergeOptions): Marks {
  const size = Number(markerSize);
  if (!Number.isInteger(size) || size < 1 || size > 1000) {
    throw new Failure(
      `--marker-size ${plainWords(markerSize)}: a whole number from 1 to 1000 is expected; git gives it as %L`,
    );
  }
  return { ours: labelOf(oursLabel, "ours"), theirs: labelOf(theirsLabel, "theirs"), size };
}

/** A git that knows no labels leaves `%X` and `%Y` as they are. */
function labelOf(given: string | undefined, usual: string): string {
  return given === undefined || /^%[XY]$/.test(given) ? usual : plainWords(given).trim();
}

function notesOf(name: string, { conflicts, byLines }: MergedTexts): string[] {
  const left = conflicts === 1 ? "1 conflict is" : `${conflicts} conflicts are`;
  return [
    ...(byLines === undefined ? [] : [`movewright: ${name} was merged by lines: ${plainWords(byLines)}`]),
    ...(conflicts === 0 ? [] : [`movewright: ${name}: ${left} left; keep one side of each and delete the marks`]),
  ];
}
