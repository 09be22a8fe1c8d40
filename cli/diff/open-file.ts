import { resolve } from "node:path";
import type { FileId } from "../../core/base/span.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import type { SourceState, Sources } from "../../core/model/sources.ts";
import { diskSources } from "../../host/disk-sources.ts";
import { fileOfPath } from "../../host/file-path.ts";
import { projectRoot } from "../../host/project-root.ts";
import { documentsUnder } from "../../host/walk.ts";
import type { ChangeSetting } from "./change-setting.ts";
import { side, type OpenChange } from "./change-sides.ts";

/**
 * One file in two states, in the place of a document on the disk. If it is no move, all moves of the project are looked at,
 * since they may use it.
 */
export function openFile(setting: ChangeSetting & { readonly way: "file" }, disk: Sources): OpenChange {
  const { before, after } = setting;
  const [was, is] = [before, after].map((one) => one && fileOfPath(one.as));
  const also = setting.also === undefined ? undefined : fileOfPath(setting.also);
  const [old, now] = [before, after].map((one) => one && contentAt(one.from, one.as));
  const others = documentsBeside(was, is, also);
  return {
    before: side(withFile(disk, was, old, is), [...others, ...(was === undefined ? [] : [was])]),
    after: side(withFile(withFile(disk, is, now, was), also, now, undefined), [
      ...others,
      ...(is === undefined ? [] : [is]),
    ]),
    renames: was !== undefined && is !== undefined && was !== is ? new Map([[was, is]]) : new Map(),
    placeBefore: (file) => file,
    notes: () => [],
  };
}

/** The same with some content under an id; what the file is called on the other side is not there. */
function withFile(
  disk: Sources,
  file: FileId | undefined,
  content: SourceState | undefined,
  other: FileId | undefined,
): Sources {
  return {
    read(asked) {
      if (asked === file && content !== undefined) return content;
      return asked === file || asked === other ? { state: "missing" } : disk.read(asked);
    },
  };
}

/** A file that the command names, wherever it is, read as the document that it stands for. */
function contentAt(from: string, as: string): SourceState {
  const state = diskSources([resolve(from)]).read(fileOfPath(from));
  // Git gives the content a name of its own that ends like the document's.
  return documentKind(as) && state.state === "bytes" ? { state: "missing" } : state;
}

/** Documents that may use the file: none if it is a move. */
function documentsBeside(was: FileId | undefined, is: FileId | undefined, also: FileId | undefined): FileId[] {
  const file = is ?? was;
  if (file === undefined || documentKind(file)?.kind === "move") return [];
  const all = documentsUnder(projectRoot(file)).map(fileOfPath);
  return all.filter((one) => one !== was && one !== is && one !== also).sort();
}
