import { readGltf } from "./gltf.ts";
import type { ReadPart } from "./gltf-file.ts";
import type { MeshFault, MeshPoints } from "./mesh-points.ts";
import { readObj } from "./obj.ts";
import { readStl } from "./stl.ts";

/** How a file begins that stands for one which Git LFS keeps (https://github.com/git-lfs/git-lfs/blob/main/docs/spec.md). */
const LFS = "version https://git-lfs.github.com/spec/v1\n";

const isLfsPointer = (bytes: Uint8Array): boolean =>
  LFS.length <= bytes.length && [...LFS].every((letter, i) => bytes[i] === letter.charCodeAt(0));

/**
 * The corners of a mesh, by the name of its file: `.stl`, `.obj`, `.gltf` or `.glb`. STL and OBJ keep their axes; glTF is y
 * up by its standard, and is turned so that its y is z here and its x stays.
 *
 * @param readPart Gives the files that a glTF file names.
 * @returns A sentence for a file that is broken; never throws, whatever the bytes.
 */
export function readMeshPoints(file: string, bytes: Uint8Array, readPart: ReadPart): MeshPoints | MeshFault {
  if (isLfsPointer(bytes))
    return { fault: "Git LFS keeps it, and did not fill it in here: get it with `git lfs pull`." };
  switch (file.slice(file.lastIndexOf(".") + 1).toLowerCase()) {
    case "stl":
      return readStl(bytes);
    case "obj":
      return readObj(bytes);
    default:
      return readGltf(bytes, readPart);
  }
}
