import { randomBytes } from "node:crypto";
import {
  accessSync,
  closeSync,
  constants,
  fchmodSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";

/** Why a file was not written, in words for the user; the file is as it was. */
export class WriteRefused extends Error {
  override readonly name = "WriteRefused";
}

/**
 * Writes a file whole or not at all: aside first, brought to the disk, then renamed over the old one, whose mode it keeps.
 * Throws what the file system says; nothing is left behind then.
 */
export function writeWhole(path: string, content: string | Uint8Array): void {
  const aside = join(dirname(path), `.${basename(path)}.${randomBytes(6).toString("hex")}`);
  let handle: number | undefined;
  try {
    // Fails where something has that name already, a link too.
    handle = openSync(aside, "wx");
    writeFileSync(handle, content);
    const mode = statSync(path, { throwIfNoEntry: false })?.mode;
    if (mode !== undefined) fchmodSync(handle, mode & 0o7777);
    fsyncSync(handle);
    closeSync(handle);
    handle = undefined;
    renameSync(aside, path);
  } catch (error) {
    if (handle !== undefined) closeSync(handle);
    rmSync(aside, { force: true });
    throw error;
  }
}

/**
 * Replaces the text of a file by another, if it still has the text that was read. Throws `WriteRefused` when it has not,
 * when it is a link or no file, or when its folder does not let it.
 */
export function replaceText(path: string, read: string, text: string): void {
  replaceStanding(path, text, (stands) => {
    if (stands.equals(Buffer.from(read))) return undefined;
    return stands.toString() === read ? "is not valid UTF-8, so the rest of it would change" : CHANGED;
  });
}

/** The same of a file of any bytes. */
export function replaceBytes(path: string, read: Uint8Array, bytes: Uint8Array): void {
  replaceStanding(path, bytes, (stands) => (stands.equals(read) ? undefined : CHANGED));
}

const CHANGED = "changed since it was read; run again";

/** @param fault Why what stands there is not to be replaced, if it is not. */
function replaceStanding(
  path: string,
  content: string | Uint8Array,
  fault: (stands: Buffer) => string | undefined,
): void {
  const stats = attempt(path, () => lstatSync(path));
  // Renaming would put a file in the place of the link, and following it would write where nobody looked.
  if (stats.isSymbolicLink()) throw new WriteRefused(`${path} is a link; name the file that it leads to`);
  if (!stats.isFile()) throw new WriteRefused(`${path} is no file`);
  const why = fault(attempt(path, () => readFileSync(path)));
  if (why !== undefined) throw new WriteRefused(`${path} ${why}`);
  // Renaming would pass over the mark of a file that nobody is to change.
  attempt(path, () => accessSync(path, constants.W_OK));
  attempt(path, () => writeWhole(path, content));
}

/** Makes a folder, and those above it, where there is none. Throws `WriteRefused`. */
export function makeFolder(path: string): void {
  attempt(path, () => mkdirSync(path, { recursive: true }));
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: "its folder, or the file, may not be written",
  EPERM: "its folder, or the file, may not be written",
  EROFS: "it is on a disk that may only be read",
  ENOSPC: "the disk is full",
  EDQUOT: "the disk's share is used up",
  ENOENT: "it is not there any more",
};

/** Does something to a file; what the file system says against it becomes a `WriteRefused`, in our words or `other` ones. */
export function attempt<T>(path: string, act: () => T, other: Readonly<Record<string, string>> = {}): T {
  try {
    return act();
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? "";
    throw new WriteRefused(`${path} cannot be written: ${other[code] ?? REASONS[code] ?? (code || String(error))}`);
  }
}
