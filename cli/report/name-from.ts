import { relative, sep } from "node:path";
import type { FileId } from "../../core/base/span.ts";
import { pathOfFile } from "../../host/file-path.ts";
import { shownName } from "../../host/git/byte-name.ts";

/** Names files by their ways from a folder, so that nothing tells where that lies. */
export const nameFrom =
  (folder: string) =>
  (file: FileId): string =>
    shownName(relative(folder, pathOfFile(file)).split(sep).join("/")) || ".";
