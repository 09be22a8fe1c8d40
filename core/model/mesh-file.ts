import { baseName } from "../base/path.ts";
import type { FileId } from "../base/span.ts";
import type { SourceState } from "./sources.ts";

/** Largest file of a mesh that the stage is given [bytes]. */
export const MAX_MESH_BYTES = 8_000_000;

/** Formats of meshes by file name. */
const MESH = /\.(stl|obj|gltf|glb)$/i;

/** Files that are not texts to core, meshes and pictures: it knows that they are there, how large they are and when they change. */
const BINARY = /\.(stl|obj|gltf|glb|bin|png|jpe?g|webp)$/i;

export const isBinaryFile = (file: FileId): boolean => BINARY.test(file);

/** True for a file that is a mesh of a format that is read, by its name. */
export const isMeshFile = (file: FileId): boolean => MESH.test(file);

/** What follows for the checks where a mesh can't be read. */
export const NOT_MEASURED = "No clearance is measured there.";

/** What to say of a mesh that is there and broken inside. `name` as the text has it. */
export const brokenMessage = (name: string, fault: string): string => `\`${name}\` can't be read as a mesh. ${fault}`;

/** Why the stage will not draw files of meshes that are there or not: their format, by name. */
export function formatMessage(names: string, many: boolean): string {
  const are = many
    ? "are no meshes that the stage reads, by their names"
    : "is no mesh that the stage reads, by its name";
  return `${names} ${are}: it reads STL, OBJ, glTF and GLB, and draws an outline in place of others.`;
}

/** What to say of a mesh that is there but larger than the stage is given, or `undefined`. */
export function sizeMessage(file: FileId, source: SourceState): string | undefined {
  if (source.state !== "bytes" || source.size <= MAX_MESH_BYTES) return undefined;
  const most = megabytes(MAX_MESH_BYTES);
  return `\`${baseName(file)}\` has ${megabytes(source.size)}: the stage draws meshes of ${most} or less, and an outline in place of this one.`;
}

/** Rounded up, so that what is too large does not look as if it were not. */
export const megabytes = (bytes: number): string => `${Math.ceil(bytes / 1e5) / 10} MB`;
