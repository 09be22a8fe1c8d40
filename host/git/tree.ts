import { nameOfBytes } from "./byte-name.ts";
import { answered, type Repository } from "./repository.ts";

export type EntryKind = "file" | "link" | "submodule";

/** What a tree has under a name. */
export interface TreeEntry {
  readonly kind: EntryKind;
  /** Object id of its content; of a submodule its commit. */
  readonly object: string;
}

/** All names of a commit's tree, in git's order, which is that of their bytes. */
export type Tree = ReadonlyMap<string, TreeEntry>;

/** The tree of a commit, folders looked through. */
export function listTree({ top }: Repository, commit: string): Tree {
  const output = answered(top, ["ls-tree", "-r", "-z", "--full-tree", "--end-of-options", commit]);
  const tree = new Map<string, TreeEntry>();
  for (const record of splitZero(output)) {
    const tab = record.indexOf(0x09);
    const [mode, , object] = record.subarray(0, tab).toString("latin1").split(" ");
    tree.set(nameOfBytes(record.subarray(tab + 1)), { kind: entryKind(mode), object });
  }
  return tree;
}

/** What git's mode of an entry says that it is. */
export const entryKind = (mode: string): EntryKind =>
  mode === "160000" ? "submodule" : mode === "120000" ? "link" : "file";

/** The parts of an answer that each end with a zero byte. */
export function splitZero(output: Buffer): Buffer[] {
  const parts: Buffer[] = [];
  for (let at = 0; at < output.length;) {
    const end = output.indexOf(0, at);
    const stop = end < 0 ? output.length : end;
    parts.push(output.subarray(at, stop));
    at = stop + 1;
  }
  return parts;
}
