import {
  BufferAttribute,
  BufferGeometry,
  CylinderGeometry,
  DynamicDrawUsage,
  Group,
  InstancedMesh,
  LineSegments,
  Matrix4,
  Mesh,
  Quaternion,
  Vector3,
} from "three";
import type { ResolvedRig } from "../../core/rig/resolved-rig.ts";
import type { Palette } from "../palette.ts";
import type { Moment } from "../take/moment.ts";
import { createDots, type Dots } from "./dots.ts";
import { STAGE_ONLY } from "./eye.ts";
import type { Materials } from "./materials.ts";
import { poseGroup } from "./pose-group.ts";
import { mergeBodies, seenBodies, type Merged, type ShapeOf } from "./solids.ts";
import type { BaseFrame } from "../../core/rig/chain.ts";

/** Radius of the links of a rig that has no bodies [m]. */
const PLAIN_RADIUS = 0.025;

export interface RigModel {
  readonly object: Group;
  readonly joints: Dots;
  update(moment: Moment): void;
  paint(palette: Palette): void;
  dispose(): void;
}

/** The rig: its bodies, or plain links when it has none, and over them the chain with a ring at each joint. */
export function createRigModel(rig: ResolvedRig, base: BaseFrame, materials: Materials, shapeOf: ShapeOf): RigModel {
  const object = new Group();
  const owned: BufferGeometry[] = [];
  const links = new Map<number, Group>();
  for (let link = -1; link < rig.joints.length; link++) {
    const merged = mergeBodies(
      rig.bodies.filter((body) => body.link === link),
      shapeOf,
    );
    if (merged === undefined) continue;
    const group = solidGroup(merged, materials);
    owned.push(merged.faces, merged.edges);
    links.set(link, group);
    object.add(group);
  }
  const baseGroup = links.get(-1);
  if (baseGroup) poseGroup(baseGroup, base.rotation, 0, base.position, 0);

  const joints = createDots(rig.joints.length, {
    shape: "ring",
    size: 9,
    colour: "joint",
    chosen: "joint",
    order: 12,
  });
  const chain = chainLine(rig.joints.length, materials);
  const plain = seenBodies(rig.bodies).length === 0 ? plainLinks(rig.joints.length + 1, materials) : undefined;
  owned.push(chain.geometry);
  object.add(chain, joints.object);
  if (plain) object.add(plain);
  const points = new Float32Array(3 * (rig.joints.length + 2));

  return {
    object,
    joints,
    update(moment) {
      const { rotations, positions, mountPosition } = moment.pose;
      for (const [link, group] of links) if (link >= 0) poseGroup(group, rotations, 9 * link, positions, 3 * link);
      joints.places.set(positions);
      joints.moved();
      points.set(base.position, 0);
      points.set(positions, 3);
      points.set(mountPosition, points.length - 3);
      const line = chain.geometry.getAttribute("position") as BufferAttribute;
      for (let i = 0; i + 1 < points.length / 3; i++) {
        for (let c = 0; c < 6; c++) line.array[6 * i + c] = points[3 * i + c];
      }
      line.needsUpdate = true;
      if (plain) placePlain(plain, points);
    },
    paint: (palette) => joints.paint(palette),
    dispose() {
      for (const geometry of owned) geometry.dispose();
      joints.dispose();
      if (plain) {
        plain.geometry.dispose();
        plain.dispose();
      }
    },
  };
}

function solidGroup(merged: Merged, materials: Materials): Group {
  const group = new Group();
  const faces = new Mesh(merged.faces, materials.rig);
  faces.castShadow = true;
  faces.receiveShadow = true;
  group.add(faces, new LineSegments(merged.edges, materials.rigEdge));
  group.matrixAutoUpdate = false;
  return group;
}

/** A line from the base through the joints to the camera mount. */
function chainLine(joints: number, materials: Materials): LineSegments {
  const geometry = new BufferGeometry();
  geometry.setAttribute(
    "position",
    new BufferAttribute(new Float32Array(6 * (joints + 1)), 3).setUsage(DynamicDrawUsage),
  );
  const line = new LineSegments(geometry, materials.chain);
  line.frustumCulled = false;
  line.renderOrder = 11;
  line.layers.set(STAGE_ONLY);
  return line;
}

/** Rods between neighbouring joints; their lengths follow the linear axes. */
function plainLinks(count: number, materials: Materials): InstancedMesh {
  const rod = new CylinderGeometry(PLAIN_RADIUS, PLAIN_RADIUS, 1, 16).rotateX(Math.PI / 2).translate(0, 0, 0.5);
  const rods = new InstancedMesh(rod, materials.rig, count);
  rods.frustumCulled = false;
  rods.castShadow = true;
  return rods;
}

function placePlain(rods: InstancedMesh, points: Float32Array): void {
  const [from, along] = [new Vector3(), new Vector3()];
  const [turn, stand, size, matrix] = [new Quaternion(), new Vector3(0, 0, 1), new Vector3(), new Matrix4()];
  for (let i = 0; i < rods.count; i++) {
    from.fromArray(points, 3 * i);
    along.fromArray(points, 3 * i + 3).sub(from);
    const length = along.length();
    turn.setFromUnitVectors(stand, length > 0 ? along.divideScalar(length) : stand);
    size.set(length > 0 ? 1 : 0, length > 0 ? 1 : 0, length);
    rods.setMatrixAt(i, matrix.compose(from, turn, size));
  }
  rods.instanceMatrix.needsUpdate = true;
}
