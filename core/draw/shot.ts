import { composePoses, type Pose } from "../base/pose.ts";
import { IDENTITY_QUAT, quatAbout } from "../base/quat.ts";
import type { Vec3 } from "../base/vec3.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { Instant, Trajectory } from "../motion/trajectory.ts";
import { linkPose, linkPoints, mountPose } from "../rig/bodies.ts";
import { baseFrame, compileRig, createPoseBuffer, fillFollowers, forward } from "../rig/chain.ts";
import type { Body, Solid } from "../rig/resolved-rig.ts";

/** A solid where it is at the instant that is drawn. */
export interface PlacedSolid {
  readonly name: string;
  readonly part: "rig" | "camera" | "obstacle" | "person" | "dressing";
  readonly solid: Solid;
  /** In the set. */
  readonly pose: Pose;
}

/** All that is drawn of one instant of a move, in the set. SI. */
export interface Shot {
  readonly move: ResolvedMove;
  readonly instant: Instant;
  readonly solids: readonly PlacedSolid[];
  /** From the base through the joints to the flange. */
  readonly chain: readonly Vec3[];
  /** Flange of the camera: x along the view, y left, z up. */
  readonly mount: Pose;
  /** How each turntable stands, its frame in the set. */
  readonly tables: readonly Pose[];
}

/** Size of the box that stands for a camera body whose size nothing states: a sign, not a measure [m]. */
const BODY_SIGN: Vec3 = [0.1, 0.1, 0.1];
/** A cylinder stands along z; the barrel lies along the view. */
const ALONG_VIEW = quatAbout([0, 1, 0], Math.PI / 2);

/** The instant `t` [s], clamped to the move. */
export function shotAt(trajectory: Trajectory, t: number): Shot {
  const { move } = trajectory;
  const instant = trajectory.createInstant();
  trajectory.at(t, instant);
  const chain = compileRig(move.rig);
  const base = baseFrame(move.base);
  const pose = createPoseBuffer(chain);
  const q = new Float64Array(chain.count);
  move.axes.forEach(({ joint }, axis) => {
    if (joint >= 0) q[joint] = instant.value[axis];
  });
  fillFollowers(chain, q);
  forward(chain, base, q, pose);
  const tables = move.turntables.map(({ at, along }, table): Pose => {
    const axis = move.axes.findIndex((one) => one.turntable === table);
    return { at, turn: axis < 0 ? IDENTITY_QUAT : quatAbout(along, instant.value[axis]) };
  });
  const mount = mountPose(pose);
  const standing = (part: "obstacle" | "person" | "dressing", bodies: readonly Body[]): PlacedSolid[] =>
    drawnOf(bodies).map(({ name, solid, table, pose: own }) => ({
      name,
      part,
      solid,
      pose: table === undefined ? own : composePoses(tables[table], own),
    }));
  const carried = drawnOf(move.rig.bodies).map(({ name, solid, link, pose: own }): PlacedSolid => ({
    name,
    part: "rig",
    solid,
    pose: composePoses(linkPose(base, pose, link), own),
  }));
  return {
    move,
    instant,
    solids: [
      ...carried,
      ...cameraSolids(move, mount),
      ...standing("obstacle", move.obstacles),
      ...standing("person", move.people),
      ...standing("dressing", move.dressing ?? []),
    ],
    chain: linkPoints(base, pose),
    mount,
    tables,
  };
}

/** Bodies that are to be seen; where one is a mesh that can't be drawn, those that keep clear of others in its place. */
function drawnOf(bodies: readonly Body[]): readonly Body[] {
  const isLost = ({ solid }: Body): boolean => solid.shape === "mesh" && solid.hull === undefined;
  const lost = new Set(bodies.filter((body) => body.only === "looks" && isLost(body)).map(({ link }) => link));
  return bodies.filter((body) => !isLost(body) && (body.only !== "clearance" || lost.has(body.link)));
}

function cameraSolids({ optics }: ResolvedMove, mount: Pose): PlacedSolid[] {
  const placed = (name: string, solid: Solid, own: Pose): PlacedSolid => ({
    name,
    part: "camera",
    solid,
    pose: composePoses(mount, own),
  });
  const { front } = optics;
  const body = placed(
    optics.cameraName,
    { shape: "box", size: BODY_SIGN },
    { at: [-BODY_SIGN[0] / 2, 0, 0], turn: IDENTITY_QUAT },
  );
  const barrel =
    front && front.length > 0 && front.diameter > 0
      ? [
          placed(
            optics.lensName,
            { shape: "cylinder", radius: front.diameter / 2, height: front.length },
            { at: [front.length / 2, 0, 0], turn: ALONG_VIEW },
          ),
        ]
      : [];
  const attached = optics.attachments.map(({ name, box, at }) =>
    placed(name, { shape: "box", size: box }, { at, turn: IDENTITY_QUAT }),
  );
  return [body, ...barrel, ...attached];
}
