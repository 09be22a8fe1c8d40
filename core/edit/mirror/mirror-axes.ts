import { dot, scale, subtract, length, type Vec3 } from "../../base/vec3.ts";
import { seededRandom } from "../../base/random.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { compileRig, createPoseBuffer, fillFollowers, forward, ownFrame, type Chain } from "../../rig/chain.ts";
import type { ResolvedRig } from "../../rig/resolved-rig.ts";
import { mirroredVector, type Plane } from "./mirror-plane.ts";

/** What becomes of an axis value in a mirror [rad, m]: `sign` · value + `offset`. */
export interface AxisMirror {
  readonly sign: 1 | -1;
  readonly offset: number;
}

/** How far a rig may be from alike on both sides [m, 1]. */
const ALIKE = 1e-9;
/** Poses in which that is looked at. */
const POSES = 8;
const SEED = 5;

/** A rig's own left is its right in the mirror. */
const SIDE: Vec3 = [0, 1, 0];

/**
 * Signs of a rig's joints seen in its own middle plane, x and z of the base: with them every pose is the mirrored one.
 * `undefined` for a rig that is not alike on both sides.
 */
export function jointSigns(rig: ResolvedRig): readonly (1 | -1)[] | undefined {
  const chain = compileRig(rig);
  const pose = createPoseBuffer(chain);
  const rest = new Float64Array(rig.joints.length);
  fillFollowers(chain, rest);
  forward(chain, ownFrame(), rest, pose);
  const signs: (1 | -1)[] = [];
  for (const [joint, { type, along }] of rig.joints.entries()) {
    const part = dot(turned(pose.rotations.subarray(9 * joint, 9 * joint + 9), along), SIDE);
    const isAcross = Math.abs(Math.abs(part) - 1) < ALIKE;
    if (type !== "fixed" && !isAcross && ALIKE < Math.abs(part)) return undefined;
    // A turn about what is square to the plane is the same in the mirror, one about what lies in it goes the other way.
    const keeps = type === "fixed" || (type === "linear" ? !isAcross : isAcross);
    signs.push(keeps ? 1 : -1);
  }
  return isAlike(rig, chain, signs) ? signs : undefined;
}

const turned = (m: ArrayLike<number>, v: Vec3): Vec3 => [
  m[0] * v[0] + m[1] * v[1] + m[2] * v[2],
  m[3] * v[0] + m[4] * v[1] + m[5] * v[2],
  m[6] * v[0] + m[7] * v[1] + m[8] * v[2],
];

function isAlike(rig: ResolvedRig, chain: Chain, signs: readonly number[]): boolean {
  const random = seededRandom(SEED);
  const [one, other] = [createPoseBuffer(chain), createPoseBuffer(chain)];
  for (let i = 0; i < POSES; i++) {
    const q = Float64Array.from(rig.joints, () => 2 * random() - 1);
    fillFollowers(chain, q);
    const mirrored = q.map((value, joint) => signs[joint] * value);
    const followed = Float64Array.from(mirrored);
    fillFollowers(chain, followed);
    if (followed.some((value, joint) => ALIKE < Math.abs(value - mirrored[joint]))) return false;
    forward(chain, ownFrame(), q, one);
    forward(chain, ownFrame(), mirrored, other);
    const [x, y, z] = one.mountPosition;
    if (ALIKE < length(subtract([x, -y, z], vec(other.mountPosition)))) return false;
    // Columns of the camera's turn: its view and its up are mirrored, its left becomes its right.
    for (let k = 0; k < 9; k++) {
      const flips = (Math.floor(k / 3) === 1) !== (k % 3 === 1);
      if (ALIKE < Math.abs((flips ? -1 : 1) * one.mountRotation[k] - other.mountRotation[k])) return false;
    }
  }
  return true;
}

const vec = (v: ArrayLike<number>): Vec3 => [v[0], v[1], v[2]];

/** Where the base stands in the mirror, and what becomes of each axis then. */
export interface RigMirror {
  readonly axes: readonly AxisMirror[];
  /** Absent: the base stays as it stands. */
  readonly place?: { readonly at: readonly [number, number]; readonly heading: number; readonly roll: number };
}

/**
 * How a rig that is alike on both sides stands and moves in a mirror: with its base where it is, where the plane goes through
 * it and along its heading or its first axis turns it; else with the base mirrored too.
 */
export function rigMirror(move: ResolvedMove, plane: Plane): RigMirror | undefined {
  const signs = jointSigns(move.rig);
  if (!signs) return undefined;
  const { x, y, heading, lean } = move.base;
  const off = (x - plane.at[0]) * plane.across[0] + (y - plane.at[1]) * plane.across[1];
  const axes = move.axes.map(({ joint, turntable }): AxisMirror => {
    return { sign: 0 <= joint ? signs[joint] : tableSign(move, turntable, plane), offset: 0 };
  });
  const direction = Math.atan2(-plane.across[0], plane.across[1]);
  const turn = wrapped(2 * (direction - heading));
  const isUpright = Math.abs(lean[0]) < ALIKE;
  if (Math.abs(off) < ALIKE && isUpright && Math.abs(turn) < ALIKE) return { axes };
  const first = move.rig.joints.findIndex(({ type }) => type !== "fixed");
  const yaw = move.axes.findIndex(({ joint, role }) => joint === first && role === "driven");
  if (Math.abs(off) < ALIKE && isUpright && Math.abs(lean[1]) < ALIKE && 0 <= yaw) {
    const along = yawSide(move.rig, first);
    const turning = axes.map((axis, i) => (i === yaw ? { ...axis, offset: along * turn } : axis));
    if (along !== 0) return { axes: turning };
  }
  const far = 2 * off;
  const at = [x - far * plane.across[0], y - far * plane.across[1]] as const;
  return { axes, place: { at, heading: wrapped(2 * direction - heading), roll: -lean[0] } };
}

/** 1 or -1 where a joint turns about the base's own upright, up or down; else 0. */
function yawSide(rig: ResolvedRig, joint: number): number {
  const { joints } = rig;
  const chain = compileRig(rig);
  const pose = createPoseBuffer(chain);
  forward(chain, ownFrame(), new Float64Array(joints.length), pose);
  const [x, y] = [pose.positions[3 * joint], pose.positions[3 * joint + 1]];
  const up = turned(pose.rotations.subarray(9 * joint, 9 * joint + 9), joints[joint].along)[2];
  const isUpright = joints[joint].type === "rotary" && Math.hypot(x, y) < ALIKE && Math.abs(Math.abs(up) - 1) < ALIKE;
  return isUpright ? Math.sign(up) : 0;
}

/** A turntable turns the other way about what lies in the plane, the same way about what is square to it. */
function tableSign({ turntables }: ResolvedMove, table: number, plane: Plane): 1 | -1 {
  const { along } = turntables[table];
  return length(subtract(mirroredVector(along, plane), scale(along, -1))) < ALIKE ? 1 : -1;
}

function wrapped(angle: number): number {
  const turn = 2 * Math.PI;
  const rest = ((angle % turn) + turn) % turn;
  return rest > Math.PI ? rest - turn : rest;
}
