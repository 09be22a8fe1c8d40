import { nameOfBytes } from "./byte-name.ts";
import { answered, type Repository } from "./repository.ts";
import { entryKind, splitZero, type EntryKind } from "./tree.ts";

/** One file that two trees have differently. */
export interface ChangedFile {
  readonly state: "added" | "removed" | "changed" | "renamed";
  /** Name on the side before; absent when it is added. */
  readonly before?: string;
  /** Name on the side after; absent when it is removed. */
  readonly after?: string;
  /** What it is on the side after, or was, when it is gone. */
  readonly kind: EntryKind;
}

/** What differs between the trees of two commits, renamed files found by what is in them, in git's order of names. */
export function changedFiles({ top }: Repository, before: string, after: string): ChangedFile[] {
  const args = ["diff-tree", "-r", "--raw", "-z", "-M", "--no-ext-diff", "--no-textconv", "--no-abbrev"];
  const parts = splitZero(answered(top, [...args, "--end-of-options", before, after]));
  const files: ChangedFile[] = [];
  for (let i = 0; i < parts.length;) {
    const [modeBefore, modeAfter, , , status] = parts[i++].toString("latin1").replace(/^:/, "").split(" ");
    const first = nameOfBytes(parts[i++]);
    const second = /^[RC]/.test(status) ? nameOfBytes(parts[i++]) : first;
    files.push(changedFile(status[0], first, second, entryKind(status === "D" ? modeBefore : modeAfter)));
  }
  return files;
}

function changedFile(status: string, before: string, after: string, kind: EntryKind): ChangedFile {
  if (status === "A" || status === "C") return { state: "added", after, kind };
  if (status === "D") return { state: "removed", before, kind };
  return { state: status === "R" ? "renamed" : "changed", before, after, kind };
}
