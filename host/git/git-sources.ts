import { join, posix } from "node:path";
import type { FileId } from "../../core/base/span.ts";
import { isBinaryFile, MAX_MESH_BYTES } from "../../core/model/mesh-file.ts";
import type { SourceState, Sources } from "../../core/model/sources.ts";
import { fileOfPath, pathOfFile } from "../file-path.ts";
import { shownName } from "./byte-name.ts";
import { GitFailure } from "./git-failure.ts";
import { lfsContent, type LfsPointer } from "./lfs-pointer.ts";
import { fileInRepository, nameInRepository, openRepository, sharedFolder, type Repository } from "./repository.ts";
import { runGit } from "./run-git.ts";
import { treeContents, type TreeContents } from "./tree-contents.ts";
import { locate, type Located } from "./tree-links.ts";
import { listTree, type Tree, type TreeEntry } from "./tree.ts";

/** Texts of a revision. */
export interface GitSources extends Sources {
  /** What has to be said of what was read so far: what is not of the revision, and what is not here. Sentences without a stop. */
  notes(): readonly string[];
}

interface Revised {
  readonly repository: Repository;
  readonly contents: TreeContents;
  readonly outside: Sources;
  readonly said: Set<string>;
  /** By folder; `undefined` for one that is not here as the revision has it. */
  readonly submodules: Map<string, GitSources | undefined>;
}

/**
 * Files of a tree under the ids that they have in the working tree. What is outside of the repository, which has no older
 * revision, is read as it is now, from `outside`, which keeps to its own bounds; that is noted. Throws `GitFailure` when an
 * object of the tree can't be read. Each file is read once.
 */
export function gitSources(repository: Repository, tree: Tree, outside: Sources): GitSources {
  const contents = treeContents(repository, tree);
  const revised: Revised = { repository, contents, outside, said: new Set(), submodules: new Map() };
  const known = new Map<FileId, SourceState>();
  return {
    read(file) {
      const state = known.get(file) ?? readFile(revised, tree, file);
      known.set(file, state);
      return state;
    },
    notes: () => [...revised.said, ...[...revised.submodules.values()].flatMap((sources) => sources?.notes() ?? [])],
  };
}

const OUTSIDE = "outside of the repository";

function readFile(revised: Revised, tree: Tree, file: FileId): SourceState {
  const { repository, contents } = revised;
  const name = nameInRepository(repository, file);
  if (name === undefined) return readNow(revised, file, OUTSIDE);
  const found = locate(tree, name, contents.linkTarget);
  switch (found.at) {
    case "nowhere":
      return { state: "missing" };
    case "outside":
      return readNow(
        revised,
        fileOfPath(posix.isAbsolute(found.path) ? found.path : join(repository.top, found.path)),
        OUTSIDE,
      );
    case "submodule":
      return readSubmodule(revised, found);
    case "file":
      if (isBinaryFile(name)) return byteState(revised, found.name, found.entry);
      return textState(revised, found.name, found.entry);
  }
}

function textState(revised: Revised, name: string, entry: TreeEntry): SourceState {
  const content = revised.contents.text(name, entry);
  const pointer = revised.contents.pointer(entry);
  const whole = pointer ? lfsBytes(revised, name, pointer) : content;
  return whole ? { state: "text", text: Buffer.from(whole).toString("utf8") } : { state: "missing" };
}

function byteState(revised: Revised, name: string, entry: TreeEntry): SourceState {
  const { contents } = revised;
  const size = contents.size(name, entry);
  const pointer = contents.pointer(entry);
  if (!pointer) {
    return { state: "bytes", size, stamp: entry.object, content: () => contents.bytes(entry, MAX_MESH_BYTES) };
  }
  return { state: "bytes", size: pointer.size, stamp: pointer.sum, content: () => lfsBytes(revised, name, pointer) };
}

function lfsBytes({ repository, said }: Revised, name: string, pointer: LfsPointer): Uint8Array | undefined {
  const now = join(repository.top, pathOfFile(name));
  const content = lfsContent(pointer, sharedFolder(repository), [now], MAX_MESH_BYTES);
  if (content === undefined && pointer.size <= MAX_MESH_BYTES) {
    said.add(
      `${shownName(name)} is kept by Git LFS and is not here as that revision has it: get it with \`git lfs fetch --all\``,
    );
  }
  return content;
}

function readSubmodule(revised: Revised, { folder, entry, name }: Extract<Located, { at: "submodule" }>): SourceState {
  const { repository, submodules, outside } = revised;
  if (!submodules.has(folder)) submodules.set(folder, submoduleSources(repository, folder, entry.object, outside));
  const file = fileInRepository(repository, `${folder}/${name}`);
  const sources = submodules.get(folder);
  if (sources) return sources.read(file);
  return readNow(
    revised,
    file,
    `in the submodule ${shownName(folder)}, which is not here as that revision has it (\`git submodule update --init\`)`,
  );
}

/** A file that has no content of that revision. */
function readNow({ outside, said }: Revised, file: FileId, why: string): SourceState {
  const state = outside.read(file);
  if (state.state === "text" || state.state === "bytes")
    said.add(`${shownName(file)} is ${why}: it is read as it is now`);
  return state;
}

/** The tree that a repository has for a submodule, `undefined` when the submodule or that commit of it is not here. */
function submoduleSources(
  repository: Repository,
  folder: string,
  commit: string,
  outside: Sources,
): GitSources | undefined {
  try {
    const submodule = openRepository(join(repository.top, pathOfFile(folder)));
    // A folder that was never filled belongs to the repository around it.
    if (submodule.top === repository.top) return undefined;
    if (runGit(submodule.top, ["cat-file", "-e", `${commit}^{commit}`]).status !== 0) return undefined;
    return gitSources(submodule, listTree(submodule, commit), outside);
  } catch (error) {
    if (error instanceof GitFailure) return undefined;
    throw error;
  }
}
