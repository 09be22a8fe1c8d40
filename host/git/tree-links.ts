import { posix } from "node:path";
import type { Tree, TreeEntry } from "./tree.ts";

/** What a name leads to in a tree, links followed. */
export type Located =
  | { readonly at: "file"; readonly name: string; readonly entry: TreeEntry }
  /** In a submodule: its folder, and the name in it. */
  | { readonly at: "submodule"; readonly folder: string; readonly entry: TreeEntry; readonly name: string }
  /** A link out of the repository, to this path: absolute, or relative to the top with `..` in front. */
  | { readonly at: "outside"; readonly path: string }
  | { readonly at: "nowhere" };

/** Most links on the way to a file; more are a circle (Linux has the same). */
const MOST_LINKS = 40;

/** Finds a name in a tree as a disk would, links of files and of folders followed. `targetOf` reads a link. */
export function locate(tree: Tree, name: string, targetOf: (link: TreeEntry) => string): Located {
  let at = name;
  for (let links = 0; links <= MOST_LINKS; links++) {
    const front = firstEntry(tree, at);
    if (front === undefined) return { at: "nowhere" };
    const [folder, entry] = front;
    const rest = at.slice(folder.length + 1);
    if (entry.kind === "submodule")
      return rest === "" ? { at: "nowhere" } : { at: "submodule", folder, entry, name: rest };
    if (entry.kind === "file") return rest === "" ? { at: "file", name: at, entry } : { at: "nowhere" };
    const target = targetOf(entry);
    if (posix.isAbsolute(target)) return { at: "outside", path: posix.join(target, rest) };
    at = posix.join(posix.dirname(folder), target, rest);
    if (at === ".." || at.startsWith("../")) return { at: "outside", path: at };
  }
  return { at: "nowhere" };
}

/** The shortest front of a name that is no folder of the tree, and what it is. */
function firstEntry(tree: Tree, name: string): [string, TreeEntry] | undefined {
  for (let slash = name.indexOf("/"); ; slash = name.indexOf("/", slash + 1)) {
    const front = slash < 0 ? name : name.slice(0, slash);
    const entry = tree.get(front);
    if (entry) return [front, entry];
    if (slash < 0) return undefined;
  }
}
