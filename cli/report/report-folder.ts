import { existsSync, lstatSync, readdirSync, readFileSync, realpathSync } from "node:fs";
import { basename, join, relative, sep } from "node:path";
import { isRecord } from "../../core/base/is-record.ts";
import { attempt, WriteRefused } from "../../host/write-file.ts";

/** What a report is known by: it lists all files of its folder. */
export const MANIFEST = "report.json";
export const REPORT_FORM = 1;

/**
 * Sees that a folder may be replaced by a report: it is not there, empty, or holds an older report and nothing else.
 * Throws `WriteRefused`.
 *
 * @param kept Files and folders that have to stay: a folder that holds one is never replaced.
 */
export function requireRoom(folder: string, kept: readonly string[], force: boolean): void {
  const stats = attempt(folder, () => lstatSync(folder, { throwIfNoEntry: false }));
  if (!stats) return;
  if (stats.isSymbolicLink()) throw new WriteRefused(`${folder} is a link; name the folder that it leads to`);
  if (!stats.isDirectory()) throw new WriteRefused(`${folder} is no folder`);
  const whole = realpathSync(folder);
  const held = kept.find((path) => existsSync(path) && isIn(realpathSync(path), whole));
  if (held !== undefined) throw new WriteRefused(`${folder} holds ${basename(held)}, which a report would replace; name a folder of its own`); // prettier-ignore
  const files = attempt(folder, () => filesIn(folder));
  if (files.length === 0 || force) return;
  const listed = listedFiles(folder);
  const other = listed ? files.find((file) => !listed.has(file)) : files[0];
  if (other === undefined) return;
  throw new WriteRefused(`${folder} holds ${other}, which is of no older report of this program; choose another folder, or replace all that is in it with --force`); // prettier-ignore
}

const isIn = (path: string, folder: string): boolean => path === folder || path.startsWith(folder + sep);

function filesIn(folder: string): string[] {
  const found = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((one) => !one.isDirectory());
  return found.map((one) => relative(folder, join(one.parentPath, one.name)).split(sep).join("/")).sort();
}

/** The files that the report in a folder lists; `undefined` where there is none. */
function listedFiles(folder: string): ReadonlySet<string> | undefined {
  try {
    const value: unknown = JSON.parse(readFileSync(join(folder, MANIFEST), "utf8"));
    if (!isRecord(value) || typeof value["movewright-report"] !== "number" || !Array.isArray(value.files)) return undefined; // prettier-ignore
    return new Set([MANIFEST, ...value.files.flatMap((one: unknown) => (isRecord(one) && typeof one.path === "string" ? [one.path] : []))]); // prettier-ignore
  } catch {
    // What can't be read as a report is none, and is refused as such.
    return undefined;
  }
}
