import { deflateSync } from "node:zlib";
import { baseName, resolveReference } from "../../core/base/path.ts";
import type { FileId } from "../../core/base/span.ts";
import { readMeshPoints } from "../../core/mesh/read-mesh.ts";
import { isBinaryFile } from "../../core/model/mesh-file.ts";
import { isPlateFile, largeFileMessage } from "../../core/model/plate-file.ts";
import type { Sources } from "../../core/model/sources.ts";
import type { StageMeshAnswer } from "../../protocol/stage.ts";

/** Room for meshes and plates in a page, deflated [bytes]. */
export const MESH_ROOM = 400_000;

interface Candidate {
  readonly file: FileId;
  /** The mesh, and the files that it names under the names that it has for them. */
  readonly parts: readonly { readonly part?: string; readonly bytes: Uint8Array }[];
  /** Of all its parts, deflated [bytes]. */
  readonly size: number;
}

/** The files of meshes and plates that fit into a page, small ones first, and of each other one why it is not there. */
export function pageMeshes(
  files: readonly FileId[],
  sources: Sources,
  nameOf: (file: FileId) => string,
): StageMeshAnswer[] {
  const found = files.map((file) => candidateOf(file, sources));
  const candidates = found
    .filter((one) => "parts" in one)
    .sort((a, b) => a.size - b.size || (a.file < b.file ? -1 : 1));
  const kept = new Set<FileId>();
  let room = MESH_ROOM;
  for (const { file, size } of candidates) {
    if (size > room) break;
    room -= size;
    kept.add(file);
  }
  return found.flatMap((one): StageMeshAnswer[] => {
    const file = nameOf(one.file);
    if (!("parts" in one)) return [{ file, problem: one.problem }];
    if (!kept.has(one.file)) return [{ file, problem: tooLarge(one) }];
    return one.parts.map(({ part, bytes }) => {
      const data = Buffer.from(bytes).toString("base64");
      return part === undefined ? { file, data, stamp: "page" } : { file, part, data, stamp: "page" };
    });
  });
}

/** A sentence on each mesh that is not in the page. */
export const leftOut = (meshes: readonly StageMeshAnswer[]): string[] =>
  meshes.flatMap((mesh) => ("problem" in mesh ? [`${baseName(mesh.file)} is not in the page. ${mesh.problem}`] : []));

const tooLarge = ({ file, size }: Candidate): string =>
  `Packed it takes ${kilobytes(size)}, and all meshes and plates of a page together may take ${kilobytes(MESH_ROOM)}. ${
    isPlateFile(file) ? "The view through the lens is shown without it." : "An outline stands in its place."
  }`;

/** Rounded up, so that what is too large does not look as if it were not. */
const kilobytes = (bytes: number): string => `${Math.ceil(bytes / 1000)} kB`;

function candidateOf(file: FileId, sources: Sources): Candidate | { readonly file: FileId; readonly problem: string } {
  const source = sources.read(file);
  const large = largeFileMessage(file, source);
  if (large !== undefined) return { file, problem: large };
  const bytes = source.state === "bytes" ? source.content() : undefined;
  if (!bytes) return { file, problem: "It can't be read." };
  const parts = new Map<string, Uint8Array>();
  // Read for the names in it alone: what is wrong with it the stage says when it draws it.
  readMeshPoints(file, bytes, (name) => {
    const part = resolveReference(file, name);
    const found = isBinaryFile(part) ? sources.read(part) : undefined;
    const content = found?.state === "bytes" ? found.content() : undefined;
    if (content) parts.set(name, content);
    return content;
  });
  const all = [{ bytes }, ...[...parts].map(([part, content]) => ({ part, bytes: content }))];
  return { file, parts: all, size: all.reduce((sum, one) => sum + deflateSync(one.bytes).length, 0) };
}
