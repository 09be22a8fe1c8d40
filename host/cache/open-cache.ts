import { mkdirSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { CachePlace } from "./result-cache.ts";

/** Tells backups to leave a folder out (https://bford.info/cachedir/). */
const TAG = `Signature: 8a477f597d28d172789f06886806bc55
# This folder holds answers of movewright that it can make anew. See https://bford.info/cachedir/
`;

/** Why a folder that a person named can't hold a cache, in words. */
export class CacheRefused extends Error {
  override readonly name = "CacheRefused";
}

/**
 * The place for results of `program` in `folder`, made if need be: all entries are in a folder of their own in it, and
 * nothing else in it is touched. Throws `CacheRefused` when it can't be made.
 */
export function openCache(folder: string, program: string): CachePlace {
  const entries = join(folder, "results-1");
  try {
    mkdirSync(entries, { recursive: true, mode: 0o700 });
    const tag = join(entries, "CACHEDIR.TAG");
    if (!statSync(tag, { throwIfNoEntry: false })) writeFileSync(tag, TAG);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? String(error);
    const why = { EEXIST: "it is no folder", ENOTDIR: "it is no folder", EACCES: "it may not be written", EROFS: "it may not be written" }[code]; // prettier-ignore
    throw new CacheRefused(`${folder} can't hold a cache: ${why ?? code}`);
  }
  return { folder: entries, program };
}
