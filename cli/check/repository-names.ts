import { existsSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import type { FileId } from "../../core/base/span.ts";
import { fileOfPath, pathOfFile } from "../../host/file-path.ts";

/** The top of the repository that a folder is in, by what marks it; the folder itself where there is none. */
export function repositoryTop(folder: string): string {
  for (let at = folder; ; at = dirname(at)) {
    // A file in a submodule and in a second working tree.
    if (existsSync(join(at, ".git"))) return at;
    if (at === dirname(at)) return folder;
  }
}

/** Names of files from the top of the repository, as code hosts have them; one outside keeps its whole path. */
export function namesFrom(top: string): (file: FileId) => string {
  const front = `${fileOfPath(top).replace(/\/$/, "")}/`;
  return (file) => (file.startsWith(front) ? file.slice(front.length) : file);
}

/** How the command line names a file that nobody named: from the folder that it runs in. */
export function pathFrom(folder: string, file: FileId): string {
  return relative(folder, pathOfFile(file)).split("\\").join("/");
}
