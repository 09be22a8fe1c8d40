import type { FileId } from "../../core/base/span.ts";

/**
 * Names for files that tell nothing of where they lie on a disk: paths from the deepest folder that holds all of `files`,
 * so that the same documents give the same names wherever they are.
 */
export function fileNames(files: readonly FileId[]): (file: FileId) => string {
  const folders = files.map((file) => file.split("/").slice(0, -1));
  const [first = [], ...others] = folders;
  let shared = 0;
  while (shared < first.length && others.every((parts) => parts[shared] === first[shared])) shared++;
  return (file) => file.split("/").slice(shared).join("/");
}
