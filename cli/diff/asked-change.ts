import { accessSync, constants, existsSync, realpathSync, statSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import type { FileId } from "../../core/base/span.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import { fileOfPath } from "../../host/file-path.ts";
import { resolveRange } from "../../host/git/range.ts";
import { openRepository } from "../../host/git/repository.ts";
import { projectRoot } from "../../host/project-root.ts";
import { Failure } from "../failure.ts";
import type { ChangeSetting } from "./change-setting.ts";

/** A change as it was asked for. */
export interface AskedChange {
  readonly setting: ChangeSetting;
  /** What people call the sides. */
  readonly before: string;
  readonly after: string;
  /** Tells which files are asked for. */
  readonly isAsked: (file: FileId) => boolean;
  /** Names that have to be on one side at least, as they were given. */
  readonly named: readonly { readonly path: string; readonly file: FileId }[];
}

const everything = { isAsked: (): boolean => true, named: [] };

/** The change between two files or two folders of the disk. Throws `Failure` for what can't be compared. */
export function askedOfDisk(paths: readonly string[]): AskedChange {
  const [before, after] = paths;
  if (paths.length !== 2) throw new Failure("name two documents or two folders, OLD and NEW; or --git BASE..HEAD");
  const [isOld, isNew] = paths.map(isFolder);
  if (isOld !== isNew) throw new Failure(`${before} and ${after} are not alike: name two documents, or two folders`);
  const sides = { before: resolve(before), after: resolve(after) };
  const roots = [process.cwd(), ...[sides.before, sides.after].map(projectRoot)];
  const told = { before, after, ...everything };
  if (isOld) {
    const [outer, inner] = [`${sides.before}/`, `${sides.after}/`];
    if (outer !== inner && (outer.startsWith(inner) || inner.startsWith(outer))) {
      throw new Failure(`${before} and ${after} lie one in the other; name two folders beside each other`);
    }
    return { setting: { way: "folders", ...sides, roots }, ...told };
  }
  const [was, is] = paths.map((path) => documentKind(path)?.kind);
  if (was === undefined || is === undefined) {
    throw new Failure(`${was === undefined ? before : after} is no document by its name`);
  }
  if (was !== is)
    throw new Failure(`${before} is a ${was} document and ${after} a ${is} document; name two of one kind`);
  if (is === "move") return { setting: { way: "moves", ...sides, roots }, ...told };
  const one = (from: string): { readonly as: string; readonly from: string } => ({ as: sides.after, from });
  return {
    setting: { way: "file", before: one(sides.before), after: one(sides.after), also: sides.before, roots },
    ...told,
  };
}

/** The change between two revisions, or a revision and the disk. Throws `GitFailure` for what git can't give. */
export function askedOfGit(written: string, paths: readonly string[]): AskedChange {
  const places = paths.map((path) => ({ path, file: fileOfPath(realPlace(resolve(path))) }));
  const folder = paths.length === 0 ? process.cwd() : nearestFolder(resolve(paths[0]));
  const repository = openRepository(folder);
  const { before, after } = resolveRange(repository, written);
  const head = after === "working-tree" ? {} : { head: after.commit };
  return {
    setting: { way: "git", folder, base: before.commit, ...head, roots: [process.cwd(), gitRoot(folder)] },
    before: before.name,
    after: after === "working-tree" ? "the files on the disk" : after.name,
    isAsked: (file) => places.length === 0 || places.some((place) => isWithin(file, place.file)),
    named: places,
  };
}

export const isWithin = (file: FileId, place: FileId): boolean =>
  file === place || file.startsWith(place.endsWith("/") ? place : `${place}/`);

function isFolder(path: string): boolean {
  try {
    accessSync(path, constants.R_OK);
    return statSync(path).isDirectory();
  } catch (error) {
    const { code = String(error) } = error as NodeJS.ErrnoException;
    const isGone = code === "ENOENT" || code === "ENOTDIR";
    throw new Failure(`${path} ${isGone ? "is not there" : `may not be read (${code})`}`);
  }
}

/** The folder of a path that may not be there any more, or never was on the disk. */
function nearestFolder(path: string): string {
  const facts = statSync(path, { throwIfNoEntry: false });
  return facts?.isDirectory() || path === dirname(path) ? path : nearestFolder(dirname(path));
}

/** A path with the links of its folders followed, as git names files. */
function realPlace(path: string): string {
  const folder = nearestFolder(path);
  if (folder === path) return realpathSync(path);
  return folder === dirname(path)
    ? join(realpathSync(folder), basename(path))
    : join(realPlace(dirname(path)), basename(path));
}

/** The folder above that is marked as a repository's; not where a configuration of it says that its files are. */
function gitRoot(folder: string): string {
  for (let at = realpathSync(folder); ; at = dirname(at)) {
    if (existsSync(join(at, ".git"))) return at;
    if (at === dirname(at)) return projectRoot(folder);
  }
}
