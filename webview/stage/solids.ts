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
    const placed = placedSolid(part.solid, matrixOf(part.pose));
    faces.push(placed.faces);
    edges.push(placed.edges);
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

/** Whose edges were looked for once: all boxes, all rods and all balls are one stretched. */
const UNITS = new Map<Solid["shape"], Merged>();

function placedSolid(solid: PlainSolid, pose: Matrix4): Merged {
  // A capsule's ends would not stay round.
  if (solid.shape === "capsule") return moved(outlined(capsule(solid)), pose);
  let unit = UNITS.get(solid.shape);
  if (!unit) UNITS.set(solid.shape, (unit = outlined(unitSolid(solid.shape))));
  const { faces, edges } = unit;
  return moved({ faces: faces.clone(), edges: edges.clone() }, pose.scale(new Vector3(...stretchOf(solid))));
}

function moved({ faces, edges }: Merged, by: Matrix4): Merged {
  return { faces: faces.applyMatrix4(by), edges: edges.applyMatrix4(by) };
}

/** Its surface as triangles of their own, and its sharp edges. */
function outlined(solid: BufferGeometry): Merged {
  const edges = new EdgesGeometry(solid, EDGE_ANGLE);
  const faces = solid.index ? solid.toNonIndexed() : solid;
  faces.deleteAttribute("uv");
  if (faces !== solid) solid.dispose();
  return { faces, edges };
}

type PlainSolid = Exclude<Solid, { readonly shape: "mesh" }>;
type Capsule = Extract<Solid, { readonly shape: "capsule" }>;

/** three's cylinders and capsules stand along y; ours along z. */
function unitSolid(shape: Exclude<PlainSolid, Capsule>["shape"]): BufferGeometry {
  switch (shape) {
    case "box":
      return new BoxGeometry(1, 1, 1);
    case "cylinder":
      return new CylinderGeometry(1, 1, 1, 40).rotateX(Math.PI / 2);
    case "sphere":
      return new SphereGeometry(1, 32, 20);
  }
}

function stretchOf(solid: Exclude<PlainSolid, Capsule>): Vec3 {
  switch (solid.shape) {
    case "box":
      return solid.size;
    case "cylinder":
      return [solid.radius, solid.radius, solid.height];
    case "sphere":
      return [solid.radius, solid.radius, solid.radius];
  }
}

function capsule({ radius, height }: Capsule): BufferGeometry {
  const middle = Math.max(0, height - 2 * radius);
  return new CapsuleGeometry(radius, middle, 10, 28).rotateX(Math.PI / 2);
}
