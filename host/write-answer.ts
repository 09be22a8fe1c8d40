import { closeSync, lstatSync, openSync, readSync } from "node:fs";
import { attempt, writeWhole, WriteRefused } from "./write-file.ts";

/** Bytes of a file that stands there which are looked at to see whose it is. */
const LOOK = 4096;

export interface AnswerFile {
  readonly path: string;
  /** A text, or bytes. */
  readonly content: string | Uint8Array;
  /** Tells by its beginning whether a file is one that the program made. */
  readonly isOurs: (start: string) => boolean;
  /** Replaces a file that is not ours too. */
  readonly force: boolean;
}

/**
 * Writes a file that the program makes, whole or not at all. One that stands there is replaced if it is an older answer of
 * the program, or when that is forced. Throws `WriteRefused` for any other, for a link and for what is no file.
 */
export function writeAnswer({ path, content, isOurs, force }: AnswerFile): void {
  const stats = attempt(path, () => lstatSync(path, { throwIfNoEntry: false }));
  // Renaming would put a file in the place of the link, and following it would write where nobody looked.
  if (stats?.isSymbolicLink()) throw new WriteRefused(`${path} is a link; name the file that it leads to`);
  if (stats && !stats.isFile()) throw new WriteRefused(`${path} is no file`);
  if (stats && stats.size > 0 && !force && !isOurs(attempt(path, () => startOf(path)))) {
    throw new WriteRefused(
      `${path} is there and is not an older answer of this program; choose another name, or replace it with --force`,
    );
  }
  attempt(path, () => writeWhole(path, content), {
    ENOENT: "its folder is not there",
    ENOTDIR: "its folder is not there",
  });
}

function startOf(path: string): string {
  const handle = openSync(path, "r");
  try {
    const bytes = Buffer.alloc(LOOK);
    return bytes.toString("utf8", 0, readSync(handle, bytes, 0, LOOK, 0));
  } finally {
    closeSync(handle);
  }
}
