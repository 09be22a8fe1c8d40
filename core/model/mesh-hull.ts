import { resolveReference } from "../base/path.ts";
import type { FileId } from "../base/span.ts";
import type { Vec3 } from "../base/vec3.ts";
import { readMeshPoints } from "../mesh/read-mesh.ts";
import type { Solid } from "../rig/resolved-rig.ts";
import { hullOf, type Hull } from "../solid/hull.ts";
import { isBinaryFile, MAX_MESH_BYTES } from "./mesh-file.ts";
import { readInput, type Resolution } from "./resolution.ts";

/** The hull of a mesh in its own units, kept by the stamps of all that it was read from. */
export interface MeshFile {
  readonly kind: "mesh";
  readonly stamp: string;
  /** The files that it names, in the order of asking. */
  readonly parts: readonly FileId[];
  /** A sentence where the file holds no mesh that can be read. */
  readonly hull: Hull | { readonly fault: string };
  /** Hulls in metres by their scales: equal ones are one object, so that comparing them costs nothing. */
  readonly scaled: Map<string, ScaledHull>;
}

type MeshSolid = Extract<Solid, { shape: "mesh" }>;
export type ScaledHull = Required<Pick<MeshSolid, "hull" | "margin">>;

/** Most files that one mesh may name. */
const MOST_PARTS = 64;

/**
 * The hull of a mesh file in metres.
 *
 * @param scale Metres for one unit along each axis; below 0 mirrors.
 * @returns A sentence for a file that is broken; `undefined` for one that is missing, too large, or not looked at yet:
 *   that is told elsewhere.
 */
export function meshHull(
  resolution: Resolution,
  file: FileId,
  scale: Vec3,
): ScaledHull | { readonly fault: string } | undefined {
  const mesh = openMesh(resolution, file);
  if (!mesh) return undefined;
  const { hull, scaled } = mesh;
  if ("fault" in hull) return hull;
  const name = scale.join(" ");
  const known = scaled.get(name) ?? scaledHull(hull, scale);
  scaled.set(name, known);
  return known;
}

function scaledHull({ corners, margin }: Hull, scale: Vec3): ScaledHull {
  const most = Math.max(...scale.map(Math.abs));
  return { hull: corners.map((value, idx) => value * scale[idx % 3]), margin: margin * most };
}

function openMesh(resolution: Resolution, file: FileId): MeshFile | undefined {
  const source = readInput(resolution, file);
  if (source.state !== "bytes" || source.size > MAX_MESH_BYTES) return undefined;
  const kept = resolution.memo.get(file);
  if (kept?.kind === "mesh" && kept.stamp === stampOf(resolution, [file, ...kept.parts])) {
    // What was asked for last stands last: the memo's owner lets go of the first ones.
    resolution.memo.delete(file);
    resolution.memo.set(file, kept);
    return kept;
  }
  const parts: FileId[] = [];
  const bytes = source.content();
  const read = bytes && readMeshPoints(file, bytes, (name) => contentOf(resolution, file, name, parts));
  if (parts.some((part) => resolution.unread.has(part))) return undefined;
  const hull = !read ? { fault: "It can't be read." } : "fault" in read ? read : hullOf(read.points);
  const mesh: MeshFile = { kind: "mesh", stamp: stampOf(resolution, [file, ...parts]), parts, hull, scaled: new Map() };
  resolution.memo.set(file, mesh);
  return mesh;
}

/** Asked again for a kept mesh, so that its parts stay inputs of what is resolved. */
function stampOf(resolution: Resolution, files: readonly FileId[]): string {
  return files
    .map((file) => readInput(resolution, file))
    .map((source) => (source.state === "bytes" ? source.stamp : source.state))
    .join(" ");
}

function contentOf(resolution: Resolution, mesh: FileId, name: string, parts: FileId[]): Uint8Array | undefined {
  const file = resolveReference(mesh, name);
  if (!isBinaryFile(file) || parts.length === MOST_PARTS) return undefined;
  parts.push(file);
  const source = readInput(resolution, file);
  return source.state === "bytes" && source.size <= MAX_MESH_BYTES ? source.content() : undefined;
}
