import { join } from "node:path";
import { pathOfFile } from "../file-path.ts";
import { documentsUnder } from "../walk.ts";
import { shownName } from "./byte-name.ts";
import type { Repository } from "./repository.ts";
import type { Tree } from "./tree.ts";

/**
 * Says of each submodule that is another one after, or that has documents, that these are compared in it alone. `after` is
 * absent where the side after is the disk.
 */
export function submoduleNotes(repository: Repository, before: Tree, after: Tree | undefined): string[] {
  const folders = [...new Set([...submodulesOf(before).keys(), ...submodulesOf(after ?? new Map()).keys()])];
  return folders.sort().flatMap((folder) => {
    const [was, is] = [submodulesOf(before).get(folder), submodulesOf(after ?? new Map()).get(folder)];
    const shown = shownName(folder);
    if (was !== undefined && is !== undefined && was !== is) {
      const range = `${short(was)}..${short(is)}`;
      return [
        `${shown} is a submodule that went on to another commit; its documents are compared in it: run \`movewright diff --git ${range}\` in ${shown}`,
      ];
    }
    if (!hasDocuments(repository, folder)) return [];
    return [`${shown} is a submodule; its documents are compared in it alone: run \`movewright diff --git\` there`];
  });
}

const submodulesOf = (tree: Tree): Map<string, string> =>
  new Map([...tree].flatMap(([name, { kind, object }]) => (kind === "submodule" ? [[name, object] as const] : [])));

const short = (commit: string): string => commit.slice(0, 10);

function hasDocuments({ top }: Repository, folder: string): boolean {
  try {
    return documentsUnder(join(top, pathOfFile(folder))).length > 0;
  } catch {
    // Never filled, or not there any more: there is nothing to say of it.
    return false;
  }
}
