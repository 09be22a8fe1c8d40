import { lstatSync } from "node:fs";
import { join } from "node:path";
import { pathOfFile } from "../file-path.ts";
import { isOddName, nameBytes, nameOfBytes } from "./byte-name.ts";
import { answered, type Repository } from "./repository.ts";
import { entryKind, splitZero, type Tree, type TreeEntry } from "./tree.ts";

/** The files that a working tree stands for. */
export interface WorkingFiles {
  /** Tracked or not, but not ignored, and on the disk; or left off the disk by a sparse checkout. In no order. */
  readonly names: ReadonlySet<string>;
  /** Those that a sparse checkout leaves off the disk. */
  readonly sparse: Tree;
  readonly submodules: ReadonlySet<string>;
}

/** Asks git what belongs to a working tree. No content is looked at, so no filter of the repository is run. */
export function listWorkingFiles(repository: Repository): WorkingFiles {
  const { top } = repository;
  const names = new Set<string>();
  const sparse = new Map<string, TreeEntry>();
  const submodules = new Set<string>();
  for (const record of splitZero(answered(top, ["ls-files", "-z", "-t", "-s"]))) {
    const tab = record.indexOf(0x09);
    const [tag, mode, object] = record.subarray(0, tab).toString("latin1").split(" ");
    const name = nameOfBytes(record.subarray(tab + 1));
    const kind = entryKind(mode);
    if (kind === "submodule") submodules.add(name);
    else if (isOnDisk(repository, name)) names.add(name);
    else if (tag === "S") sparse.set(name, { kind, object });
  }
  for (const record of splitZero(answered(top, ["ls-files", "-z", "--others", "--exclude-standard"]))) {
    names.add(nameOfBytes(record));
  }
  return { names: new Set([...names, ...sparse.keys()]), sparse, submodules };
}

/** Where the disk has a file of a repository, also one whose name is no UTF-8. */
export function diskPath({ top }: Repository, name: string): string | Buffer {
  if (!isOddName(name)) return join(top, pathOfFile(name));
  return Buffer.concat([Buffer.from(`${top}/`), nameBytes(name)]);
}

const isOnDisk = (repository: Repository, name: string): boolean => {
  try {
    lstatSync(diskPath(repository, name));
    return true;
  } catch {
    // Deleted, or its folder is a file now.
    return false;
  }
};
