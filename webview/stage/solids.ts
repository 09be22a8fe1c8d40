import type { BufferGeometry } from "three";
import {
  BoxGeometry,
  CapsuleGeometry,
  CylinderGeometry,
  EdgesGeometry,
  Matrix4,
  OctahedronGeometry,
  Quaternion,
  SphereGeometry,
  Vector3,
} from "three";
import { mergeGeometries } from "three/examples/jsm/utils/BufferGeometryUtils.js";
import type { Pose } from "../../core/base/pose.ts";
import type { Body, Solid } from "../../core/rig/resolved-rig.ts";

/** Edges sharper than this are drawn as lines [deg]. */
const EDGE_ANGLE = 30;
/** Size of the sign that stands for a mesh, whose file the stage is not given [m]. */
const MESH_SIGN = 0.08;

/** Surfaces and edges of several solids in one geometry each: two draw calls however many they are. */
export interface Merged {
  readonly faces: BufferGeometry;
  readonly edges: BufferGeometry;
}

/** `undefined` for no bodies at all. */
export function mergeBodies(bodies: readonly Body[]): Merged | undefined {
  return mergeSolids(bodies.map((body) => ({ solid: body.solid, pose: body.pose })));
}

export function mergeSolids(parts: readonly { readonly solid: Solid; readonly pose: Pose }[]): Merged | undefined {
  if (parts.length === 0) return undefined;
  const faces: BufferGeometry[] = [];
  const edges: BufferGeometry[] = [];
  for (const part of parts) {
    const face = solidGeometry(part.solid).applyMatrix4(matrixOf(part.pose));
    const flat = face.index ? face.toNonIndexed() : face;
    flat.deleteAttribute("uv");
    const edge = new EdgesGeometry(face, EDGE_ANGLE);
    faces.push(flat);
    edges.push(edge);
    if (flat !== face) face.dispose();
  }
  const merged = { faces: mergeGeometries(faces), edges: mergeGeometries(edges) };
  for (const geometry of [...faces, ...edges]) geometry.dispose();
  return merged;
}

export function matrixOf(pose: Pose): Matrix4 {
  return new Matrix4().compose(new Vector3(...pose.at), new Quaternion(...pose.turn).normalize(), new Vector3(1, 1, 1));
}

/** three's cylinders and capsules stand along y; ours along z. */
function solidGeometry(solid: Solid): BufferGeometry {
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
    case "mesh":
      return new OctahedronGeometry(MESH_SIGN);
  }
}
