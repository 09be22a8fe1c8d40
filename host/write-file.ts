import { randomBytes } from "node:crypto";
import { chmodSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";

/**
 * Writes a file whole or not at all: aside first, then renamed over the old one, whose mode it keeps. Throws what the file
 * system says; nothing is left behind then.
 */
export function writeWhole(path: string, text: string): void {
  const aside = join(dirname(path), `.${basename(path)}.${randomBytes(6).toString("hex")}`);
  try {
    writeFileSync(aside, text, { flag: "wx" });
    const mode = statSync(path, { throwIfNoEntry: false })?.mode;
    if (mode !== undefined) chmodSync(aside, mode & 0o777);
    renameSync(aside, path);
  } catch (error) {
    rmSync(aside, { force: true });
    throw error;
  }
}
