import { existsSync, mkdirSync, mkdtempSync, renameSync, rmSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { attempt } from "./write-file.ts";

/**
 * Makes a folder aside, lets `write` fill it, and puts it in the place of `folder`. When that fails, what stood there stands
 * there still.
 */
export async function replaceFolder<T>(folder: string, write: (aside: string) => Promise<T>): Promise<T> {
  const whole = resolve(folder);
  const aside = attempt(folder, () => {
    mkdirSync(dirname(whole), { recursive: true });
    return mkdtempSync(join(dirname(whole), `.${basename(whole)}.`));
  });
  try {
    const [made, old] = [join(aside, "new"), join(aside, "old")];
    attempt(folder, () => mkdirSync(made));
    const answer = await write(made);
    attempt(folder, () => {
      const isThere = existsSync(whole);
      if (isThere) renameSync(whole, old);
      try {
        renameSync(made, whole);
      } catch (error) {
        if (isThere) renameSync(old, whole);
        throw error;
      }
    });
    return answer;
  } finally {
    rmSync(aside, { recursive: true, force: true });
  }
}
