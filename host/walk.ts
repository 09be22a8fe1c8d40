import { readdirSync, type Dirent } from "node:fs";
import { join } from "node:path";
import { isAsset } from "../core/model/asset-kind.ts";
import { documentKind } from "../core/model/document-kind.ts";

/** Folders that hold no documents of the user: packages, and all that begin with a dot. */
export const isSkippedFolder = (name: string): boolean => name === "node_modules" || name.startsWith(".");

/**
 * Paths of all our documents under a folder, in the order of their names, folders after the files beside them. Links to
 * folders are not followed, so that a circle of links ends. Throws when `folder` itself cannot be read.
 */
export const documentsUnder = (folder: string): string[] =>
  filesUnder(folder, (name) => documentKind(name) !== undefined);

/** The same for files that documents name and that are none themselves. */
export const assetsUnder = (folder: string): string[] => filesUnder(folder, isAsset);

/** The same for files of which a caller says what they are called. */
export const namedUnder = (folder: string, isWanted: (name: string) => boolean): string[] =>
  filesUnder(folder, isWanted);

function filesUnder(folder: string, isWanted: (name: string) => boolean): string[] {
  const entries = readdirSync(folder, { withFileTypes: true }).sort(byName);
  const files = entries.filter((entry) => !entry.isDirectory() && isWanted(entry.name));
  const folders = entries.filter((entry) => entry.isDirectory() && !isSkippedFolder(entry.name));
  return [
    ...files.map((entry) => join(folder, entry.name)),
    ...folders.flatMap((entry) => quietly(() => filesUnder(join(folder, entry.name), isWanted))),
  ];
}

const byName = (a: Dirent, b: Dirent): number => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0);

/** A folder below that may not be looked into holds nothing for us. */
function quietly(list: () => string[]): string[] {
  try {
    return list();
  } catch {
    return [];
  }
}
