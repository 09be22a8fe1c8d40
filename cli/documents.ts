import { statSync, accessSync, constants } from "node:fs";
import { dirname, relative, sep } from "node:path";
import type { FileId } from "../core/base/span.ts";
import { DOCUMENT_KINDS, documentKind, type DocumentKind } from "../core/model/document-kind.ts";
import type { Sources } from "../core/model/sources.ts";
import { diskSources } from "../host/disk-sources.ts";
import { fileOfPath } from "../host/file-path.ts";
import { projectRoot } from "../host/project-root.ts";
import { documentsUnder } from "../host/walk.ts";
import { Failure } from "./failure.ts";

/** A document of the command line: as it was given, for people, and its id, for core. */
export interface Given {
  /** With `/` between its parts. */
  readonly path: string;
  readonly file: FileId;
}

/** All documents that `paths` name, folders looked through; each once. Throws `Failure` when there is none. */
export function findDocuments(paths: readonly string[]): Given[] {
  const out = new Map<FileId, Given>();
  for (const path of paths) {
    for (const found of isFolder(path) ? documentsOf(path) : [documentPath(path)]) {
      const given = { path: shown(found), file: fileOfPath(found) };
      if (!out.has(given.file)) out.set(given.file, given);
    }
  }
  return [...out.values()];
}

/** One document of a kind. Throws `Failure` when it is not there or by its name of another kind. */
export function findDocument(path: string, kind: DocumentKind): Given {
  if (isFolder(path)) throw new Failure(`${path} is a folder; name one ${kind} document`);
  documentPath(path);
  const found = documentKind(path)?.kind;
  if (found !== kind) throw new Failure(`${path} is a ${found} document; a ${kind} document is needed here`);
  return { path: shown(path), file: fileOfPath(path) };
}

/** Sources that may read what belongs to the projects of `documents`, and to the folder the command runs in. */
export const sourcesFor = (documents: readonly Given[]): Sources => diskSources(rootsOf(documents));

/** The folders of the projects of `documents`, and the one that the command runs in. */
export function rootsOf(documents: readonly Given[]): string[] {
  const roots = new Set<string>([process.cwd()]);
  // Documents of one folder belong to one project.
  for (const folder of new Set(documents.map(({ path }) => dirname(path)))) roots.add(projectRoot(folder));
  return [...roots];
}

function documentsOf(folder: string): string[] {
  const found = attempt(folder, () => documentsUnder(folder));
  if (found.length === 0) throw new Failure(`${folder} holds no documents; their names end in ${endings()}`);
  // As given: what was typed stays in front of what was found below it.
  const front = folder === "." ? "" : /[/\\]$/.test(folder) ? folder : folder + sep;
  return found.map((path) => front + relative(folder, path));
}

function documentPath(path: string): string {
  if (!documentKind(path)) throw new Failure(`${path} is no document by its name; they end in ${endings()}`);
  attempt(path, () => accessSync(path, constants.R_OK));
  return path;
}

function isFolder(path: string): boolean {
  return attempt(path, () => statSync(path)).isDirectory();
}

/** Turns what the file system says into one line. */
function attempt<T>(path: string, look: () => T): T {
  try {
    return look();
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? "";
    const reasons: Readonly<Record<string, string>> = {
      ENOENT: "is not there",
      ENOTDIR: "is not there",
      EACCES: "may not be read",
      EPERM: "may not be read",
      ELOOP: "is a circle of links",
    };
    throw new Failure(`${path} ${reasons[code] ?? `cannot be read (${code || String(error)})`}`);
  }
}

const endings = (): string =>
  DOCUMENT_KINDS.filter((kind) => kind !== "config")
    .map((kind) => `.${kind}.yaml`)
    .join(", ") + " (or .yml, .json)";

/** A path with `/` between its parts. */
export const shown = (path: string): string => (sep === "/" ? path : path.split(sep).join("/"));
