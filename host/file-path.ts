import { resolve, sep } from "node:path";
import type { FileId } from "../core/base/span.ts";

/** The id of a file of the disk: its absolute path with `/` between the parts. */
export function fileOfPath(path: string): FileId {
  const absolute = resolve(path);
  return sep === "/" ? absolute : absolute.split(sep).join("/");
}

/** The disk's path of a file id made by `fileOfPath` or reached from one by a reference. */
export function pathOfFile(file: FileId): string {
  return sep === "/" ? file : file.split("/").join(sep);
}
