import type { Sources } from "../../core/model/sources.ts";
import { diskSources } from "../../host/disk-sources.ts";
import { fileOfPath } from "../../host/file-path.ts";
import { openComparison } from "../../host/git/comparison.ts";
import type { ChangeSetting } from "./change-setting.ts";
import { side, type OpenChange } from "./change-sides.ts";
import { openFile } from "./open-file.ts";
import { openFolders } from "./open-folders.ts";

/** Opens both states that a setting names. Throws `GitFailure` where git can't give them. */
export function openChange(setting: ChangeSetting): OpenChange {
  const disk = diskSources(setting.roots);
  switch (setting.way) {
    case "git":
      return openRevisions(setting, disk);
    case "folders":
      return openFolders(setting, disk);
    case "moves":
      return openMoves(setting, disk);
    case "file":
      return openFile(setting, disk);
  }
}

function openRevisions({ folder, base, head }: ChangeSetting & { readonly way: "git" }, disk: Sources): OpenChange {
  const range = head === undefined ? base : `${base}..${head}`;
  const { before, after, renamed, notes } = openComparison(folder, range, disk);
  return {
    before: side(before.sources, before.documents),
    after: side(after.sources, after.documents),
    renames: new Map([...renamed].map(([is, was]) => [was, is])),
    placeBefore: (file) => file,
    notes,
  };
}

/** Two moves of the disk, each with what it names. */
function openMoves({ before, after }: ChangeSetting & { readonly way: "moves" }, disk: Sources): OpenChange {
  const [was, is] = [fileOfPath(before), fileOfPath(after)];
  return {
    before: side(disk, [was]),
    after: side(disk, [is]),
    renames: was === is ? new Map() : new Map([[was, is]]),
    placeBefore: (file) => file,
    notes: () => [],
  };
}
