import { openGltf, type GltfFile, type ReadPart } from "./gltf-file.ts";
import { readIndices, readPlaces } from "./gltf-accessor.ts";
import { applyMatrix, matrixOf, multiply, Y_UP, type Matrix4 } from "./gltf-matrix.ts";
import { listAt, numberAt, recordAt, type Json } from "./json-values.ts";
import { MOST_TRIANGLES, soundPoints, type MeshFault, type MeshPoints } from "./mesh-points.ts";

/** More nodes than this are walked by no mesh of a set; a circle of nodes has no end. */
const MOST_NODES = 100_000;
const MOST_DEPTH = 200;

/** Modes of primitives that are triangles: a list, a strip, a fan. */
const TRIANGLE_MODES = [4, 5, 6];

/** The corners of all triangles in the scene of a glTF 2.0 file, nodes applied, z up. */
export function readGltf(bytes: Uint8Array, readPart: ReadPart): MeshPoints | MeshFault {
  const file = openGltf(bytes, readPart);
  if ("fault" in file) return file;
  const { json } = file;
  const scene = recordAt(listAt(json, "scenes"), numberAt(json, "scene", 0));
  if (!scene) return { fault: "It holds no scene." };
  const points: number[] = [];
  let nodes = 0;
  const walk = (index: unknown, parent: Matrix4, depth: number): MeshFault | undefined => {
    const node = typeof index === "number" ? recordAt(listAt(json, "nodes"), index) : undefined;
    if (!node) return { fault: "It names a node that it does not hold." };
    nodes += 1;
    if (nodes > MOST_NODES || depth > MOST_DEPTH) return { fault: "Its nodes go round in a circle, or are too many." };
    const matrix = multiply(parent, matrixOf(node));
    if ("mesh" in node) {
      const fault = addMesh(file, recordAt(listAt(json, "meshes"), numberAt(node, "mesh", -1)), matrix, points);
      if (fault) return fault;
    }
    for (const child of listAt(node, "children")) {
      const fault = walk(child, matrix, depth + 1);
      if (fault) return fault;
    }
    return undefined;
  };
  for (const node of listAt(scene, "nodes")) {
    const fault = walk(node, Y_UP, 0);
    if (fault) return fault;
  }
  return soundPoints(Float64Array.from(points));
}

function addMesh(file: GltfFile, mesh: Json | undefined, matrix: Matrix4, points: number[]): MeshFault | undefined {
  if (!mesh) return { fault: "It names a mesh that it does not hold." };
  for (const one of listAt(mesh, "primitives")) {
    const primitive = one as Json;
    if (typeof one !== "object" || one === null) return { fault: "A primitive of it is broken." };
    if (!TRIANGLE_MODES.includes(numberAt(primitive, "mode", 4))) continue;
    const fault = addPrimitive(file, primitive, matrix, points);
    if (fault) return fault;
  }
  return undefined;
}

function addPrimitive(file: GltfFile, primitive: Json, matrix: Matrix4, points: number[]): MeshFault | undefined {
  const packed = Object.keys((primitive.extensions ?? {}) as object).find((name) => name.includes("compression"));
  if (packed !== undefined) return { fault: `It is compressed by \`${packed}\`: save it without compression.` };
  const places = readPlaces(file, numberAt((primitive.attributes ?? {}) as Json, "POSITION", -1));
  if ("fault" in places) return places;
  const { values } = places;
  const indices = "indices" in primitive ? readIndices(file, numberAt(primitive, "indices", -1)) : undefined;
  if (indices && "fault" in indices) return indices;
  const count = values.length / 3;
  const corners = indices ? new Set(indices.values) : undefined;
  if ((indices?.values.length ?? count) < 3) return undefined;
  for (const corner of corners ?? Array.from({ length: count }, (_, idx) => idx)) {
    if (corner >= count) return { fault: "A triangle of it names a place that it does not hold." };
    applyMatrix(matrix, values[3 * corner], values[3 * corner + 1], values[3 * corner + 2], points);
  }
  return points.length <= 9 * MOST_TRIANGLES ? undefined : { fault: "It holds too many triangles." };
}
