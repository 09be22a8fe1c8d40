import { createHash } from "node:crypto";
import { join } from "node:path";
import { readWhole } from "../disk-sources.ts";

/** A file that stands for another one, which Git LFS keeps (https://github.com/git-lfs/git-lfs/blob/main/docs/spec.md). */
export interface LfsPointer {
  /** SHA-256 of the content. */
  readonly sum: string;
  /** Of the content [bytes]. */
  readonly size: number;
}

/** Largest file that can be a pointer [bytes]. */
export const MAX_POINTER = 1024;

export function lfsPointer(content: Uint8Array): LfsPointer | undefined {
  if (MAX_POINTER < content.length) return undefined;
  const text = Buffer.from(content).toString("utf8");
  if (!/^version https:\/\/(?:git-lfs\.github\.com|hawser\.github\.com)\/spec\/v1\n/.test(text)) return undefined;
  const sum = /^oid sha256:([0-9a-f]{64})$/m.exec(text)?.[1];
  const size = /^size (\d{1,15})$/m.exec(text)?.[1];
  return sum === undefined || size === undefined ? undefined : { sum, size: Number(size) };
}

/**
 * The content of a pointer, at most `most` bytes, from what Git LFS keeps beside the history, or from one of `paths` that has
 * just that content; `undefined` where neither does. Nothing is fetched.
 */
export function lfsContent(
  { sum, size }: LfsPointer,
  gitFolder: string,
  paths: readonly string[],
  most: number,
): Uint8Array | undefined {
  if (most < size) return undefined;
  const kept = join(gitFolder, "lfs", "objects", sum.slice(0, 2), sum.slice(2, 4), sum);
  for (const path of [kept, ...paths]) {
    const bytes = readWhole(path, size);
    if (bytes?.length === size && createHash("sha256").update(bytes).digest("hex") === sum) return bytes;
  }
  return undefined;
}
