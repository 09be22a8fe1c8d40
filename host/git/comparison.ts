import type { FileId } from "../../core/base/span.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { Sources } from "../../core/model/sources.ts";
import { pairRenames } from "../pair-renames.ts";
import { isSkippedFolder } from "../walk.ts";
import { alignSides } from "./align-sides.ts";
import { shownName } from "./byte-name.ts";
import { changedFiles } from "./changed-files.ts";
import { gitSources, type GitSources } from "./git-sources.ts";
import { resolveRange, type Range } from "./range.ts";
import { fileInRepository, nameInRepository, openRepository, type Repository } from "./repository.ts";
import type { Revision } from "./revision.ts";
import { submoduleNotes } from "./submodule-notes.ts";
import { listTree, type Tree } from "./tree.ts";
import { listWorkingFiles } from "./working-files.ts";
import { workingSources } from "./working-sources.ts";

/** One side of a comparison. */
export interface RepositorySide {
  /** All documents of it, in the order of their names. */
  readonly documents: readonly FileId[];
  readonly sources: Sources;
}

/** Two states of a repository. Files have the ids of the working tree on both sides. */
export interface Comparison {
  readonly repository: Repository;
  readonly range: Range;
  readonly before: RepositorySide;
  readonly after: RepositorySide;
  /** Ids before, by ids after, of files that are the same one under another name. */
  readonly renamed: ReadonlyMap<FileId, FileId>;
  /** What has to be said of what was read so far. Sentences without a stop. */
  notes(): readonly string[];
}

/**
 * Opens both sides of `written` (`BASE..HEAD`, `BASE...HEAD`, or `BASE` alone against the files on the disk) in the repository
 * that `folder` is in. `disk` reads what is on the disk, and keeps to its own bounds. Throws `GitFailure`.
 */
export function openComparison(folder: string, written: string, disk: Sources): Comparison {
  const repository = openRepository(folder);
  const range = resolveRange(repository, written);
  const tree = listTree(repository, range.before.commit);
  const before = gitSources(repository, tree, disk);
  const { after } = range;
  if (after === "working-tree") return withDisk(repository, range, { tree, sources: before }, disk);
  const treeAfter = listTree(repository, after.commit);
  const sources = gitSources(repository, treeAfter, disk);
  const said = submoduleNotes(repository, tree, treeAfter);
  return {
    repository,
    range,
    before: { documents: documentsOf(repository, tree.keys()), sources: before },
    after: { documents: documentsOf(repository, treeAfter.keys()), sources },
    renamed: renamedBetween(repository, range.before, after),
    notes: () => [...new Set([...said, ...before.notes(), ...sources.notes()])],
  };
}

function withDisk(
  repository: Repository,
  range: Range,
  { tree, sources }: { readonly tree: Tree; readonly sources: GitSources },
  disk: Sources,
): Comparison {
  const files = listWorkingFiles(repository);
  const isIgnored = (file: FileId): boolean => {
    const name = nameInRepository(repository, file);
    return name !== undefined && !files.names.has(name) && !isInSubmodule(name, files.submodules);
  };
  const sides = alignSides(sources, workingSources(repository, files, disk), isIgnored);
  const before = { documents: documentsOf(repository, tree.keys()), sources: sides.before };
  const after = { documents: documentsOf(repository, files.names), sources: sides.after };
  const said = submoduleNotes(repository, tree, undefined);
  const notes = (): readonly string[] => {
    const ignored = [...sides.ignored].map((file) => `${shownName(file)} is ignored by git: it is read as it is now`);
    return [...said, ...sources.notes(), ...ignored];
  };
  return { repository, range, before, after, renamed: pairSides(before, after), notes };
}

function isInSubmodule(name: string, submodules: ReadonlySet<string>): boolean {
  return [...submodules].some((folder) => name.startsWith(`${folder}/`));
}

/** The documents among names of a repository, in the order of their ids. */
function documentsOf(repository: Repository, names: Iterable<string>): FileId[] {
  const ours = [...names].filter((name) => documentKind(name) && !name.split("/").slice(0, -1).some(isSkippedFolder));
  return ours.map((name) => fileInRepository(repository, name)).sort();
}

function renamedBetween(repository: Repository, before: Revision, after: Revision): Map<FileId, FileId> {
  const files = changedFiles(repository, before.commit, after.commit);
  const id = (name: string): FileId => fileInRepository(repository, name);
  return new Map(
    files.flatMap(({ state, before: was, after: is }) =>
      state === "renamed" && was !== undefined && is !== undefined ? [[id(is), id(was)] as const] : [],
    ),
  );
}

/** Documents that only one side has, paired by what is in them. Ids before, by ids after. */
export function pairSides(before: RepositorySide, after: RepositorySide): Map<FileId, FileId> {
  const [had, has] = [new Set(before.documents), new Set(after.documents)];
  return pairRenames(
    before.documents
      .filter((file) => !has.has(file))
      .map((file) => ({ name: file, text: textOf(before.sources, file) })),
    after.documents.filter((file) => !had.has(file)).map((file) => ({ name: file, text: textOf(after.sources, file) })),
  );
}

function textOf(sources: Sources, file: FileId): string {
  const state = sources.read(file);
  return state.state === "text" ? state.text : "";
}
