import { closeSync, fstatSync, openSync, readSync, realpathSync, statSync } from "node:fs";
import { sep } from "node:path";
import type { FileId } from "../core/base/span.ts";
import { isBinaryFile, MAX_MESH_BYTES } from "../core/model/mesh-file.ts";
import type { SourceState, Sources } from "../core/model/sources.ts";
import { MAX_TEXT } from "../core/syntax/caps.ts";
import { pathOfFile } from "./file-path.ts";

/** Bytes of a file that are read: enough for the longest text that core takes and to see that it is longer. */
export const MAX_BYTES = MAX_TEXT * 3 + 4;

/**
 * Texts of the disk. What is not under one of `roots`, links followed, is `outside` and is not opened. A file of more than
 * `MAX_BYTES` is read up to there, which is more than core takes: it then says `too-large`. Each file is read once.
 */
export function diskSources(roots: readonly string[]): Sources {
  const real = roots.flatMap((root) => realPath(root) ?? []);
  const known = new Map<FileId, SourceState>();
  return {
    read(file) {
      const state = known.get(file) ?? readState(file, real);
      known.set(file, state);
      return state;
    },
  };
}

function readState(file: FileId, roots: readonly string[]): SourceState {
  const path = realPath(pathOfFile(file));
  if (path === undefined) return { state: "missing" };
  if (!roots.some((root) => isUnder(path, root))) return { state: "outside" };
  if (isBinaryFile(file)) return factsOf(path);
  const text = readText(path);
  return text === undefined ? { state: "missing" } : { state: "text", text };
}

function factsOf(path: string): SourceState {
  const facts = statSync(path, { throwIfNoEntry: false });
  if (!facts?.isFile()) return { state: "missing" };
  const { size, mtimeMs } = facts;
  return { state: "bytes", size, stamp: `${size}-${mtimeMs}`, content: () => readWhole(path, MAX_MESH_BYTES) };
}

/** All of a file under one of `roots`, at most `cap` bytes; `undefined` for any other. */
export function diskBytes(file: FileId, roots: readonly string[], cap: number): Uint8Array | undefined {
  const path = realPath(pathOfFile(file));
  const real = roots.flatMap((root) => realPath(root) ?? []);
  if (path === undefined || !real.some((root) => isUnder(path, root))) return undefined;
  return readWhole(path, cap);
}

/** All of a regular file; `undefined` when it has more bytes than `cap`, is none, or may not be read. */
function readWhole(path: string, cap: number): Uint8Array | undefined {
  const bytes = readStart(path, cap + 1);
  return bytes && bytes.length <= cap ? bytes : undefined;
}

const isUnder = (path: string, root: string): boolean =>
  path === root || path.startsWith(root.endsWith(sep) ? root : root + sep);

function realPath(path: string): string | undefined {
  try {
    return realpathSync(path);
  } catch {
    // Not there, or a folder on the way may not be looked into: for the document both mean that the file is missing.
    return undefined;
  }
}

/** The text of a regular file, at most `MAX_BYTES` of it; `undefined` when it is none or may not be read. */
export function readText(path: string): string | undefined {
  return readStart(path, MAX_BYTES)?.toString("utf8");
}

/** The first bytes of a regular file, `most` of them; `undefined` when it is none or may not be read. */
function readStart(path: string, most: number): Buffer | undefined {
  let handle: number | undefined;
  try {
    handle = openSync(path, "r");
    const { size } = fstatSync(handle);
    if (!fstatSync(handle).isFile()) return undefined;
    const bytes = Buffer.alloc(Math.min(size, most));
    let length = 0;
    while (length < bytes.length) {
      const got = readSync(handle, bytes, length, bytes.length - length, length);
      if (got === 0) break;
      length += got;
    }
    return bytes.subarray(0, length);
  } catch {
    return undefined;
  } finally {
    if (handle !== undefined) closeSync(handle);
  }
}
