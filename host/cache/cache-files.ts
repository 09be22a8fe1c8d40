import { randomBytes } from "node:crypto";
import {
  closeSync,
  fstatSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { digestOf, entryPath } from "./entry-name.ts";

/** The largest entry that is read or written [bytes]. */
const MOST_BYTES = 8_000_000;
/** An entry that is used is marked as used about once a day. */
const DAY = 86_400_000;
const HEAD = "movewright cache 1 ";

/**
 * The content of an entry, `undefined` where there is none or it is not whole: another program's, cut off, changed or not
 * to be read. Its sum stands before it.
 */
export function readEntry(folder: string, digest: string): string | undefined {
  const path = join(folder, ...entryPath(digest));
  let handle: number | undefined;
  try {
    handle = openSync(path, "r");
    const { size, mtimeMs } = fstatSync(handle);
    if (size > MOST_BYTES) return undefined;
    const content = wholeContent(readFileSync(handle, "utf8"));
    const now = Date.now();
    if (content !== undefined && Math.abs(now - mtimeMs) > DAY) mark(path, now);
    return content;
  } catch {
    // Not there, or not for us: it is made anew.
    return undefined;
  } finally {
    if (handle !== undefined) closeSync(handle);
  }
}

function wholeContent(text: string): string | undefined {
  const end = text.indexOf("\n");
  const content = text.slice(end + 1);
  return text.slice(0, end) === HEAD + digestOf(content) ? content : undefined;
}

/** What is used least lately goes first when room is needed. */
function mark(path: string, now: number): void {
  try {
    utimesSync(path, now / 1000, now / 1000);
  } catch {
    // A cache that may only be read serves as well.
  }
}

/**
 * Writes an entry whole or not at all, aside first, so that any number of programs may do so at once. It is not brought to
 * the disk at once: what a crash leaves of it is told by its sum. Gives whether it is there now.
 */
export function writeEntry(folder: string, digest: string, content: string): boolean {
  const text = `${HEAD}${digestOf(content)}\n${content}`;
  if (text.length > MOST_BYTES / 3) return false;
  const [part, name] = entryPath(digest);
  const aside = join(folder, part, `.${name}.${randomBytes(6).toString("hex")}`);
  try {
    mkdirSync(join(folder, part), { recursive: true, mode: 0o700 });
    writeFileSync(aside, text, { flag: "wx", mode: 0o600 });
    renameSync(aside, join(folder, part, name));
    return true;
  } catch {
    // Without room or leave to write, the next run finds nothing here; this one has its answer.
    removeQuietly(aside);
    return false;
  }
}

function removeQuietly(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // Never written, in a folder that is none; or left to whoever sweeps.
  }
}
