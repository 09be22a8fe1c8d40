import type { FileId } from "../base/span.ts";
import { isMeshFile } from "./mesh-file.ts";

/** Kind of a file that documents name and that is no document itself, by its name; `undefined` for any other. */
export function assetKind(file: FileId): "urdf" | "mesh" | undefined {
  if (/\.urdf$/i.test(file)) return "urdf";
  return isMeshFile(file) ? "mesh" : undefined;
}

export const isAsset = (file: FileId): boolean => assetKind(file) !== undefined;
