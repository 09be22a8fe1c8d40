import { existsSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";

/** What marks the top folder of a project. */
const MARKS = [".git", "movewright.config.yaml", "package.json"];

/**
 * The folder within which documents of `path` may refer to each other: the nearest one above that is marked as a project's
 * top, else the one that holds the document's folder, so that `moves/` may refer to `kit/` beside it.
 */
export function projectRoot(path: string): string {
  const folder = isFolder(path) ? resolve(path) : dirname(resolve(path));
  for (let at = folder; ; at = dirname(at)) {
    if (MARKS.some((mark) => existsSync(join(at, mark)))) return at;
    if (at === dirname(at)) break;
  }
  const above = dirname(folder);
  return above === dirname(above) ? folder : above;
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}
