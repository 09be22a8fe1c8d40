import { isRecord } from "../../core/base/is-record.ts";
import { readJson } from "../../core/base/read-json.ts";
import type { FileId } from "../../core/base/span.ts";
import { readEntry, writeEntry } from "./cache-files.ts";
import { digestOf } from "./entry-name.ts";

/** Where results are kept, and what program makes them. Plain data, for threads. */
export interface CachePlace {
  readonly folder: string;
  /** Another one for any change of the program: what it says of the same files may then be another thing. */
  readonly program: string;
}

/** One file that a result hangs on: which of the sides it was read on, and what it was there; missing files too. */
export interface Read {
  readonly side: string;
  readonly file: FileId;
  readonly digest: string;
}

/** What a file is now; `undefined` where that can't be said. */
export type DigestNow = (side: string, file: FileId) => string | undefined;

interface Variant {
  readonly reads: readonly Read[];
  readonly result: unknown;
}

/** Results of one question for different states of what was read: a branch and its base, in turns. */
const MOST_VARIANTS = 4;

/**
 * What was answered to a question when each file that was read for it was as it is now; `undefined` when nothing was. What
 * is found is data as it came from JSON: its shape is for the caller to check.
 *
 * @param question All that the answer hangs on beside files: two equal ones have equal answers.
 */
export function findResult(place: CachePlace, question: string, now: DigestNow): unknown {
  return variantsOf(place, question).find(({ reads }) => isNow(reads, now))?.result;
}

/** Keeps an answer, which must be data that JSON leaves as it is, for the same files. */
export function keepResult(place: CachePlace, question: string, reads: readonly Read[], result: unknown): void {
  const others = variantsOf(place, question).filter((other) => !isSame(other.reads, reads));
  const variants: readonly Variant[] = [{ reads, result }, ...others].slice(0, MOST_VARIANTS);
  writeEntry(place.folder, keyOf(place, question), JSON.stringify({ question, variants }));
}

const keyOf = ({ program }: CachePlace, question: string): string => digestOf(JSON.stringify([program, question]));

const isNow = (reads: readonly Read[], now: DigestNow): boolean =>
  reads.every(({ side, file, digest }) => now(side, file) === digest);

const isSame = (a: readonly Read[], b: readonly Read[]): boolean => JSON.stringify(a) === JSON.stringify(b);

function variantsOf(place: CachePlace, question: string): readonly Variant[] {
  const content = readEntry(place.folder, keyOf(place, question));
  if (content === undefined) return [];
  const entry = readJson(content);
  if (!isRecord(entry) || entry.question !== question || !Array.isArray(entry.variants)) return [];
  return entry.variants.filter(isVariant);
}

const isVariant = (value: unknown): value is Variant =>
  isRecord(value) &&
  "result" in value &&
  Array.isArray(value.reads) &&
  value.reads.length > 0 &&
  value.reads.every(isRead);

const isRead = (value: unknown): value is Read =>
  isRecord(value) && [value.side, value.file, value.digest].every((part) => typeof part === "string");
