import { relative } from "node:path";
import type { FileId } from "../../core/base/span.ts";
import type { Sources } from "../../core/model/sources.ts";
import { fileOfPath } from "../../host/file-path.ts";
import { pairSides } from "../../host/git/comparison.ts";
import { projectRoot } from "../../host/project-root.ts";
import { documentsUnder } from "../../host/walk.ts";
import type { ChangeSetting } from "./change-setting.ts";
import { side, type OpenChange } from "./change-sides.ts";

/**
 * Two folders of the disk. Files of the one before have the ids of their like in the one after, so that what is the same is
 * known to be; where both stand alike in projects of their own, that holds for all of the projects.
 */
export function openFolders(setting: ChangeSetting & { readonly way: "folders" }, disk: Sources): OpenChange {
  const { from, to } = frontsOf(setting.before, setting.after);
  const placeBefore = (file: FileId): FileId => (isUnder(file, to) ? from + file.slice(to.length) : file);
  const idOf = (file: FileId): FileId => (isUnder(file, from) ? to + file.slice(from.length) : file);
  const sources: Sources = { read: (file) => disk.read(placeBefore(file)) };
  const before = side(sources, documentsUnder(setting.before).map(fileOfPath).map(idOf).sort());
  const after = side(disk, documentsUnder(setting.after).map(fileOfPath).sort());
  const renames = new Map([...pairSides(before, after)].map(([is, was]) => [was, is]));
  return { before, after, renames, placeBefore, notes: () => [] };
}

function frontsOf(before: string, after: string): { readonly from: FileId; readonly to: FileId } {
  const [topBefore, topAfter] = [projectRoot(before), projectRoot(after)];
  const isAlike = topBefore !== topAfter && relative(topBefore, before) === relative(topAfter, after);
  const [from, to] = isAlike ? [topBefore, topAfter] : [before, after];
  return { from: fileOfPath(from), to: fileOfPath(to) };
}

const isUnder = (file: FileId, folder: FileId): boolean => file === folder || file.startsWith(`${folder}/`);
