import { createHash } from "node:crypto";
import { relative, sep } from "node:path";
import { documentKind } from "../../core/model/document-kind.ts";
import { pathOfFile } from "../../host/file-path.ts";
import type { Given } from "../documents.ts";
import { Failure } from "../failure.ts";

/** One of several machines that look at a part each. */
export interface Shard {
  /** From 1. */
  readonly number: number;
  readonly of: number;
}

const MOST = 1000;

/** Reads `2/3`. Throws `Failure` for any other text. */
export function readShard(written: string): Shard {
  const [, number, of] = (/^(\d{1,4})\/(\d{1,4})$/.exec(written) ?? []).map(Number);
  if (!(1 <= number && number <= of && of <= MOST)) {
    throw new Failure(`--shard ${written}: write NUMBER/COUNT, such as 2/3, with a number from 1 to the count and a count to ${MOST}`); // prettier-ignore
  }
  return { number, of };
}

/**
 * The positions of the documents that a shard looks at. Which they are hangs on their paths from the folder that the command
 * runs in, so that all machines agree; moves and shoots, which take the time, are dealt out evenly, and the rest too.
 */
export function shardOf(documents: readonly Given[], { number, of }: Shard): ReadonlySet<number> {
  const ranked = documents.map(({ file }, index) => {
    const path = placeOf(file);
    const kind = documentKind(file)?.kind;
    const rank = kind === "shoot" ? 0 : kind === "move" ? 1 : 2;
    return { index, order: `${rank} ${createHash("sha256").update(path).digest("hex")} ${path}` };
  });
  ranked.sort((a, b) => (a.order < b.order ? -1 : 1));
  return new Set(ranked.filter((_, place) => place % of === number - 1).map(({ index }) => index));
}

/** A file's path from the folder that the command runs in, the same on all machines. */
export const placeOf = (file: string): string => relative(process.cwd(), pathOfFile(file)).split(sep).join("/");

/** All documents of a run as one sum, which all shards must have in common. */
export function sumOf(documents: readonly Given[]): string {
  const list = documents.map(({ path, file }) => [path, placeOf(file)]);
  return createHash("sha256").update(JSON.stringify(list)).digest("hex");
}
