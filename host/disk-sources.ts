import { closeSync, fstatSync, openSync, readSync, realpathSync, statSync, type PathLike } from "node:fs";
import { resolve, sep } from "node:path";
import type { FileId } from "../core/base/span.ts";
import { isBinaryFile, MAX_MESH_BYTES } from "../core/model/mesh-file.ts";
import type { SourceState, Sources } from "../core/model/sources.ts";
import { MAX_TEXT } from "../core/syntax/caps.ts";
import { pathOfFile } from "./file-path.ts";

/** Bytes of a file that are read: enough for the longest text that core takes and to see that it is longer. */
export const MAX_BYTES = MAX_TEXT * 3 + 4;

/**
 * Texts of the disk. What is not under one of `roots`, links followed, is `outside` and is not opened; what isn't there by
 * its name is not even looked for, since looking alone can reach another machine. A file of more than `MAX_BYTES` is read
 * up to there, which is more than core takes: it then says `too-large`. Each file is read once.
 */
export function diskSources(roots: readonly string[]): Sources {
  const within = rootsOf(roots);
  const known = new Map<FileId, SourceState>();
  return {
    read(file) {
      const state = known.get(file) ?? readState(file, within);
      known.set(file, state);
      return state;
    },
  };
}

/** Folders by the names that they were given and by those that they have without links. */
interface Roots {
  readonly named: readonly string[];
  readonly real: readonly string[];
}

function rootsOf(roots: readonly string[]): Roots {
  const real = roots.flatMap((root) => realPath(root) ?? []);
  return { named: [...roots.map((root) => resolve(root)), ...real], real };
}

type Permitted = { readonly path: string } | { readonly state: "missing" | "outside" };

/** The path of a file that may be read, links followed, or why there is none. */
function permitted(file: FileId, { named, real }: Roots): Permitted {
  const path = resolve(pathOfFile(file));
  if (!named.some((root) => isUnder(path, root))) return { state: "outside" };
  const followed = realPath(path);
  if (followed === undefined) return { state: "missing" };
  return real.some((root) => isUnder(followed, root)) ? { path: followed } : { state: "outside" };
}

function readState(file: FileId, roots: Roots): SourceState {
  const found = permitted(file, roots);
  if ("state" in found) return found;
  const { path } = found;
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
  const found = permitted(file, rootsOf(roots));
  return "path" in found ? readWhole(found.path, cap) : undefined;
}

/** All of a regular file; `undefined` when it has more bytes than `cap`, is none, or may not be read. */
export function readWhole(path: string, cap: number): Uint8Array | undefined {
  const bytes = readStart(path, cap + 1);
  return bytes && bytes.length <= cap ? bytes : undefined;
}

function isUnder(path: string, root: string): boolean {
  const [inner, outer] = [spelt(path), spelt(root)];
  return inner === outer || inner.startsWith(outer.endsWith(sep) ? outer : outer + sep);
}

/** Where the parts of paths are parted by `\\`, their letters count alike in both cases. */
const spelt = (path: string): string => (sep === "\\" ? path.toLowerCase() : path);

function realPath(path: string): string | undefined {
  try {
    return realpathSync(path);
  } catch {
    // Not there, or a folder on the way may not be looked into: for the document both mean that the file is missing.
    return undefined;
  }
}

/** The text of a regular file, at most `MAX_BYTES` of it; `undefined` when it is none or may not be read. */
export function readText(path: PathLike): string | undefined {
  return readStart(path, MAX_BYTES)?.toString("utf8");
}

/** The first bytes of a regular file, `most` of them; `undefined` when it is none or may not be read. */
function readStart(path: PathLike, most: number): Buffer | undefined {
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
