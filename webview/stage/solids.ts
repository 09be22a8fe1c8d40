import type { BufferGeometry } from "three";
import {
  BoxGeometry,
  CapsuleGeometry,
  CylinderGeometry,
  EdgesGeometry,
  Matrix4,
  Quaternion,
  SphereGeometry,
  Vector3,
} from "three";
import { mergeGeometries } from "three/examples/jsm/utils/BufferGeometryUtils.js";
import type { Pose } from "../../core/base/pose.ts";
import type { Vec3 } from "../../core/base/vec3.ts";
import type { Body, Solid } from "../../core/rig/resolved-rig.ts";
import { noLines, type MeshShape } from "../mesh/mesh-shape.ts";

/** Edges sharper than this are drawn as lines [deg]. */
const EDGE_ANGLE = 30;
/** Side of the outline that stands for a mesh that is not there [m]. */
const MESH_SIGN = 0.12;

/** Surfaces and edges of several solids in one geometry each: two draw calls however many they are. */
export interface Merged {
  readonly faces: BufferGeometry;
  readonly edges: BufferGeometry;
}

/** The mesh of a file, once it is there. */
export type ShapeOf = (file: string) => MeshShape | undefined;

/** Bodies that are to be seen; those that only keep clear of others are not drawn. */
export const seenBodies = (bodies: readonly Body[]): readonly Body[] =>
  bodies.filter(({ only }) => only !== "clearance");

/** `undefined` for no bodies at all. */
export function mergeBodies(bodies: readonly Body[], shapeOf: ShapeOf): Merged | undefined {
  const parts = seenBodies(bodies).map((body) => ({ solid: body.solid, pose: body.pose }));
  return mergeSolids(parts, shapeOf);
}

export function mergeSolids(
  parts: readonly { readonly solid: Solid; readonly pose: Pose }[],
  shapeOf: ShapeOf = () => undefined,
): Merged | undefined {
  if (parts.length === 0) return undefined;
  const faces: BufferGeometry[] = [];
  const edges: BufferGeometry[] = [];
  for (const part of parts) {
    if (part.solid.shape === "mesh") {
      const mesh = placedMesh(shapeOf(part.solid.file), part.solid.scale, matrixOf(part.pose));
      if (mesh.faces) faces.push(mesh.faces);
      edges.push(mesh.edges);
      continue;
    }
    const face = solidGeometry(part.solid).applyMatrix4(matrixOf(part.pose));
    const flat = face.index ? face.toNonIndexed() : face;
    flat.deleteAttribute("uv");
    const edge = new EdgesGeometry(face, EDGE_ANGLE);
    faces.push(flat);
    edges.push(edge);
    if (flat !== face) face.dispose();
  }
  const merged = { faces: faces.length > 0 ? mergeGeometries(faces) : noLines(), edges: mergeGeometries(edges) };
  for (const geometry of [...faces, ...edges]) geometry.dispose();
  return merged;
}

export function matrixOf(pose: Pose): Matrix4 {
  return new Matrix4().compose(new Vector3(...pose.at), new Quaternion(...pose.turn).normalize(), new Vector3(1, 1, 1));
}

/** A mesh where it belongs, or an outline in its place. */
function placedMesh(
  shape: MeshShape | undefined,
  scale: Vec3,
  pose: Matrix4,
): { readonly faces?: BufferGeometry; readonly edges: BufferGeometry } {
  if (!shape) {
    const box = new BoxGeometry(MESH_SIGN, MESH_SIGN, MESH_SIGN);
    const edges = new EdgesGeometry(box).applyMatrix4(pose);
    box.dispose();
    return { edges };
  }
  const placed = pose.multiply(new Matrix4().makeScale(...scale));
  const faces = shape.faces.clone().applyMatrix4(placed);
  if (placed.determinant() < 0) turnOver(faces);
  return { faces, edges: shape.edges.clone().applyMatrix4(placed) };
}

/** Lets the triangles of a mirrored mesh run the other way round, or they would be seen from inside. */
function turnOver(faces: BufferGeometry): void {
  for (const name of ["position", "normal"]) {
    const { array } = faces.getAttribute(name);
    for (let i = 0; i < array.length; i += 9) {
      for (let k = 3; k < 6; k++) [array[i + k], array[i + k + 3]] = [array[i + k + 3], array[i + k]];
    }
  }
}

/** three's cylinders and capsules stand along y; ours along z. */
function solidGeometry(solid: Exclude<Solid, { readonly shape: "mesh" }>): BufferGeometry {
  switch (solid.shape) {
    case "box":
      return new BoxGeometry(...solid.size);
    case "cylinder":
      return new CylinderGeometry(solid.radius, solid.radius, solid.height, 40).rotateX(Math.PI / 2);
    case "capsule": {
      const middle = Math.max(0, solid.height - 2 * solid.radius);
      return new CapsuleGeometry(solid.radius, middle, 10, 28).rotateX(Math.PI / 2);
    }
    case "sphere":
      return new SphereGeometry(solid.radius, 32, 20);
  }
}
