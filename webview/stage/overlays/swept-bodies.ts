import type { Pose } from "../../../core/base/pose.ts";
import { composePoses, IDENTITY_POSE } from "../../../core/base/pose.ts";
import { quatAbout } from "../../../core/base/quat.ts";
import type { Solid } from "../../../core/rig/resolved-rig.ts";
import { hullOf } from "../../../core/solid/hull.ts";
import { Vector3 } from "three";
import type { OpenTake } from "../../take/open-take.ts";
import { matrixOf, seenBodies, type ShapeOf } from "../solids.ts";

/** A convex body that is swept: points whose hull it is, in the frame of a link (or of the base: link -1) [m]. */
export interface SweptBody {
  readonly link: number;
  /** Shape (n, 3). */
  readonly points: Float64Array;
}

/** Sides of what is round at least and at most. */
const SIDES = [8, 24] as const;
/** Half the thickness of what is but a line [m]: links of a rig without bodies as they are drawn, and the camera. */
const LINE = 0.025;
/** Points of a mesh that are looked at for its hull. */
const MOST_POINTS = 1500;

/**
 * All that moves with the rig: its bodies as they are drawn, meshes as their hulls, or plain links where it has none; the
 * camera from its sensor plane to the farthest entrance pupil, as a line where nothing says how big it is; the lens barrel
 * and the attachments.
 *
 * @param slack What is round may be left out by so much between the corners of its outline [m].
 */
export function sweptBodies({ stage, chain }: OpenTake, shapeOf: ShapeOf, slack: number): SweptBody[] {
  const { rig, optics } = stage;
  const last = rig.joints.length - 1;
  const body = (link: number, solid: Solid, pose: Pose): SweptBody[] => {
    const points = pointsOf(solid, shapeOf, slack);
    return points.length === 0 ? [] : [{ link, points: placed(points, pose) }];
  };
  const seen = seenBodies(rig.bodies);
  const own = seen.flatMap(({ link, solid, pose }) => body(link, solid, pose));
  const plain = seen.length > 0 ? [] : plainLinks(chain.count, (joint) => rig.joints[joint].origin.at, rig.mount.at);
  const camera: SweptBody[] = [];
  const pupils = optics.pupil.nodes.filter((_, i) => i % 4 === 0);
  const [back, front] = [-optics.flange, Math.max(0.01, ...pupils)];
  const line: Solid = { shape: "box", size: [front - back, LINE, LINE] };
  camera.push(...body(last, line, composePoses(rig.mount, { ...IDENTITY_POSE, at: [(front + back) / 2, 0, 0] })));
  if (optics.front && optics.front.length > 0 && optics.front.diameter > 0) {
    const barrel: Solid = { shape: "cylinder", radius: optics.front.diameter / 2, height: optics.front.length };
    const pose = { at: [optics.front.length / 2, 0, 0] as const, turn: quatAbout([0, 1, 0], Math.PI / 2) };
    camera.push(...body(last, barrel, composePoses(rig.mount, pose)));
  }
  for (const { box, at } of optics.attachments) {
    camera.push(...body(last, { shape: "box", size: box }, composePoses(rig.mount, { ...IDENTITY_POSE, at })));
  }
  return [...own, ...plain, ...camera];
}

/** From each link to where the next begins: what slides out of it is left to the next one's own motion. */
function plainLinks(
  count: number,
  originOf: (joint: number) => readonly number[],
  mount: readonly number[],
): SweptBody[] {
  return Array.from({ length: count + 1 }, (_, i) => {
    const to = i < count ? originOf(i) : mount;
    const corners = [-1, 1].flatMap((x) => [-1, 1].flatMap((y) => [-1, 1].map((z) => [x * LINE, y * LINE, z * LINE])));
    const points = corners.flatMap((corner) => [corner, corner.map((part, k) => part + to[k])]).flat();
    return { link: i - 1, points: Float64Array.from(points) };
  });
}

function placed(points: Float64Array, pose: Pose): Float64Array {
  const matrix = matrixOf(pose);
  const point = new Vector3();
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 3) point.fromArray(points, i).applyMatrix4(matrix).toArray(out, i);
  return out;
}

/** Points of a solid about its own origin, as `Solid` has it; round ones as prisms. */
function pointsOf(solid: Solid, shapeOf: ShapeOf, slack: number): Float64Array {
  switch (solid.shape) {
    case "box": {
      const [x, y, z] = solid.size.map((size) => size / 2);
      return Float64Array.from([-x, x].flatMap((a) => [-y, y].flatMap((b) => [-z, z].map((c) => [a, b, c]))).flat());
    }
    case "cylinder": {
      const sides = sidesOf(solid.radius, slack);
      const half = solid.height / 2;
      return Float64Array.from([-half, half].flatMap((z) => ringOf(solid.radius, sides, z)).flat());
    }
    case "sphere":
      return ballOf(solid.radius, 0, sidesOf(solid.radius, slack));
    case "capsule":
      return ballOf(solid.radius, Math.max(0, solid.height / 2 - solid.radius), sidesOf(solid.radius, slack));
    case "mesh": {
      const places = shapeOf(solid.file)?.faces.getAttribute("position").array ?? [];
      const stride = 3 * Math.max(1, Math.ceil(places.length / 3 / MOST_POINTS));
      const points: number[] = [];
      for (let i = 0; i + 2 < places.length; i += stride)
        for (let k = 0; k < 3; k++) points.push(places[i + k] * solid.scale[k]);
      return points.length === 0 ? new Float64Array(0) : Float64Array.from(hullOf(points).corners);
    }
  }
}

/** So many that a chord leaves out no more than `slack`: r (1 - cos(π / n)). */
function sidesOf(radius: number, slack: number): number {
  const share = Math.max(-1, 1 - slack / Math.max(radius, 1e-9));
  return Math.min(Math.max(SIDES[0], Math.ceil(Math.PI / Math.max(1e-3, Math.acos(share)))), SIDES[1]);
}

const ringOf = (radius: number, sides: number, z: number): number[][] =>
  Array.from({ length: sides }, (_, i) => {
    const turn = (2 * Math.PI * i) / sides;
    return [radius * Math.cos(turn), radius * Math.sin(turn), z];
  });

/** Two half balls, `half` above and below the middle. */
function ballOf(radius: number, half: number, sides: number): Float64Array {
  const rings = Math.max(2, Math.ceil(sides / 4));
  const points: number[][] = [
    [0, 0, half + radius],
    [0, 0, -half - radius],
  ];
  for (let i = 0; i < rings; i++) {
    const height = ((Math.PI / 2) * i) / rings;
    const ring = ringOf(radius * Math.cos(height), sides, 0);
    for (const sign of [-1, 1]) {
      points.push(...ring.map(([x, y]) => [x, y, sign * (half + radius * Math.sin(height))]));
    }
  }
  return Float64Array.from(points.flat());
}
