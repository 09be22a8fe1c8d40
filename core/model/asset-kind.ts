import type { FileId } from "../base/span.ts";
import { isMeshFile } from "./mesh-file.ts";
import { isPlateFile } from "./plate-file.ts";

/** Kind of a file that documents name and that is no document itself, by its name; `undefined` for any other. */
export function assetKind(file: FileId): "urdf" | "mesh" | "plate" | undefined {
  if (/\.urdf$/i.test(file)) return "urdf";
  if (isMeshFile(file)) return "mesh";
  return isPlateFile(file) ? "plate" : undefined;
}

export const isAsset = (file: FileId): boolean => assetKind(file) !== undefined;
