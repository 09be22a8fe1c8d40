import { multiplyMatrices } from "../base/matrix3.ts";
import { never } from "../base/never.ts";
import { matrixFromQuat } from "../base/quat.ts";
import { writeCosSin } from "../base/sine.ts";
import type { BasePlace, ResolvedRig } from "./resolved-rig.ts";

/** Joint kinds in `Chain.kind`: does not move, translates, turns about x, y, z of its frame, turns about any direction. */
export const FIXED = 0;
export const LINEAR = 1;
export const TURNS_X = 2;
export const TURNS_Y = 3;
export const TURNS_Z = 4;
export const TURNS_OBLIQUE = 5;

/** A rig as flat numbers, for loops that allocate nothing. Made by `compileRig`; n joints, fixed ones included. */
export interface Chain {
  readonly rig: ResolvedRig;
  readonly count: number;
  /** Shape (n,): one of the kinds above. */
  readonly kind: Uint8Array;
  /** Shape (n,): -1 for an axis along minus x, y or z of its frame (kinds TURNS_X..Z), else 1. */
  readonly sign: Float64Array;
  /** Shape (n,): 1 where the joint's origin turns. */
  readonly turned: Uint8Array;
  /** Joint origins in the parent link: row-major rotation (n, 9), position (n, 3) [m]. */
  readonly originRotation: Float64Array;
  readonly originPosition: Float64Array;
  /** Unit directions in the joint's frame, shape (n, 3). */
  readonly along: Float64Array;
  /** Lens-mount flange on the last link: row-major rotation (9,), position (3,) [m]. */
  readonly mountRotation: Float64Array;
  readonly mountPosition: Float64Array;
  /** Leader of a follower, -1 for others; value = ratio · leader + offset. */
  readonly leader: Int32Array;
  readonly ratio: Float64Array;
  readonly offset: Float64Array;
  /** Followers, each after its leader. */
  readonly followers: Int32Array;
  /** Shape (n,): the axis that a joint's value hangs on in the end (itself unless it follows), and d value / d root. */
  readonly root: Int32Array;
  readonly rootRatio: Float64Array;
  /** Joints with role `driven`, in chain order. */
  readonly driven: Int32Array;
}

/** Where the rig's base stands in the set: p_set = rotation · p_base + position. Row-major (9,), (3,) [m]. */
export interface BaseFrame {
  readonly rotation: Float64Array;
  readonly position: Float64Array;
}

/** Caller-owned room for one pose: link frames after their joints and the mount frame, in the frame the base is given in. */
export interface PoseBuffer {
  /** Shape (n, 9), row-major. */
  readonly rotations: Float64Array;
  /** Shape (n, 3) [m]. */
  readonly positions: Float64Array;
  /** Camera frame: x along the view, y left, z up. Shape (9,), row-major. */
  readonly mountRotation: Float64Array;
  /** Centre of the flange, shape (3,) [m]. */
  readonly mountPosition: Float64Array;
  /** Cosine and sine of the joint in hand. */
  readonly turn: Float64Array;
}

/**
 * Compiles a rig once.
 *
 * @param rig Names bound, leaders without a cycle, `along` of unit length: what `ResolvedRig` promises.
 */
export function compileRig(rig: ResolvedRig): Chain {
  const count = rig.joints.length;
  const chain: Chain = {
    rig,
    count,
    kind: new Uint8Array(count),
    sign: new Float64Array(count).fill(1),
    turned: new Uint8Array(count),
    originRotation: new Float64Array(9 * count),
    originPosition: new Float64Array(3 * count),
    along: new Float64Array(3 * count),
    mountRotation: new Float64Array(9),
    mountPosition: Float64Array.from(rig.mount.at),
    leader: new Int32Array(count).fill(-1),
    ratio: new Float64Array(count).fill(1),
    offset: new Float64Array(count),
    followers: Int32Array.from(followersInOrder(rig)),
    root: Int32Array.from(rig.joints, (_, index) => index),
    rootRatio: new Float64Array(count).fill(1),
    driven: Int32Array.from(rig.joints.flatMap((joint, index) => (joint.role === "driven" ? [index] : []))),
  };
  matrixFromQuat(rig.mount.turn, chain.mountRotation);
  rig.joints.forEach((joint, index) => {
    matrixFromQuat(joint.origin.turn, chain.originRotation, 9 * index);
    const [x, y, z, w] = joint.origin.turn;
    chain.turned[index] = x === 0 && y === 0 && z === 0 && w !== 0 ? 0 : 1;
    chain.originPosition.set(joint.origin.at, 3 * index);
    chain.along.set(joint.along, 3 * index);
    chain.kind[index] = kindOf(joint.type, joint.along);
    if (TURNS_X <= chain.kind[index] && chain.kind[index] <= TURNS_Z) {
      chain.sign[index] = Math.sign(joint.along[chain.kind[index] - TURNS_X]);
    }
  });
  for (const index of chain.followers) {
    const { leader, ratio, offset } = rig.joints[index].follows!;
    chain.leader[index] = leader;
    chain.ratio[index] = ratio;
    chain.offset[index] = offset;
    chain.root[index] = chain.root[leader];
    chain.rootRatio[index] = ratio * chain.rootRatio[leader];
  }
  return chain;
}

export function createPoseBuffer(chain: Chain): PoseBuffer {
  return {
    rotations: new Float64Array(9 * chain.count),
    positions: new Float64Array(3 * chain.count),
    mountRotation: new Float64Array(9),
    mountPosition: new Float64Array(3),
    turn: new Float64Array(2),
  };
}

/** Trans(x, y, floor) · Rz(heading) · Ry(lean[1]) · Rx(lean[0]). */
export function baseFrame(place: BasePlace): BaseFrame {
  const rotation = new Float64Array(9);
  const [ca, sa] = [Math.cos(place.lean[0]), Math.sin(place.lean[0])];
  const [cb, sb] = [Math.cos(place.lean[1]), Math.sin(place.lean[1])];
  const [cc, sc] = [Math.cos(place.heading), Math.sin(place.heading)];
  rotation.set([cc * cb, cc * sb * sa - sc * ca, cc * sb * ca + sc * sa], 0);
  rotation.set([sc * cb, sc * sb * sa + cc * ca, sc * sb * ca - cc * sa], 3);
  rotation.set([-sb, cb * sa, cb * ca], 6);
  return { rotation, position: Float64Array.of(place.x, place.y, place.floor) };
}

/** The base's own frame: poses then come out relative to the base. */
export function ownFrame(): BaseFrame {
  return baseFrame({ x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] });
}

/** Writes the values of followers into `q` from their leaders. Shape (n,), rad or m. */
export function fillFollowers(chain: Chain, q: Float64Array): void {
  const { followers, leader, ratio, offset } = chain;
  for (let k = 0; k < followers.length; k++) {
    const index = followers[k];
    q[index] = ratio[index] * q[leader[index]] + offset[index];
  }
}

/**
 * Forward kinematics. T(link) = T(parent) · origin · J(q). Allocates nothing.
 *
 * @param base Frame of the base in the set (`baseFrame`), or `ownFrame` for poses relative to the base.
 * @param q    Shape (n,): one value a joint, followers filled, fixed ones ignored. Rotary [rad], linear [m].
 * @param out  Room from `createPoseBuffer`; wholly overwritten.
 */
export function forward(chain: Chain, base: BaseFrame, q: Float64Array, out: PoseBuffer): void {
  const { count, kind, sign, turned, originRotation: o, originPosition, along } = chain;
  const { rotations, positions, turn } = out;
  const b = base.rotation;
  // The frame so far, rows r0., r1., r2. and place p., is kept in local numbers: in arrays this takes half as long again.
  // prettier-ignore
  let r00 = b[0], r01 = b[1], r02 = b[2], r10 = b[3], r11 = b[4], r12 = b[5], r20 = b[6], r21 = b[7], r22 = b[8];
  // prettier-ignore
  let px = base.position[0], py = base.position[1], pz = base.position[2];
  // prettier-ignore
  for (let i = 0, i3 = 0, i9 = 0; i < count; i++, i3 += 3, i9 += 9) {
    let x = originPosition[i3], y = originPosition[i3 + 1], z = originPosition[i3 + 2];
    px += r00 * x + r01 * y + r02 * z;
    py += r10 * x + r11 * y + r12 * z;
    pz += r20 * x + r21 * y + r22 * z;
    if (turned[i] === 1) {
      const m00 = o[i9], m01 = o[i9 + 1], m02 = o[i9 + 2];
      const m10 = o[i9 + 3], m11 = o[i9 + 4], m12 = o[i9 + 5];
      const m20 = o[i9 + 6], m21 = o[i9 + 7], m22 = o[i9 + 8];
      x = r00; y = r01; z = r02;
      r00 = x * m00 + y * m10 + z * m20; r01 = x * m01 + y * m11 + z * m21; r02 = x * m02 + y * m12 + z * m22;
      x = r10; y = r11; z = r12;
      r10 = x * m00 + y * m10 + z * m20; r11 = x * m01 + y * m11 + z * m21; r12 = x * m02 + y * m12 + z * m22;
      x = r20; y = r21; z = r22;
      r20 = x * m00 + y * m10 + z * m20; r21 = x * m01 + y * m11 + z * m21; r22 = x * m02 + y * m12 + z * m22;
    }
    const form = kind[i];
    if (form === LINEAR) {
      x = along[i3] * q[i]; y = along[i3 + 1] * q[i]; z = along[i3 + 2] * q[i];
      px += r00 * x + r01 * y + r02 * z;
      py += r10 * x + r11 * y + r12 * z;
      pz += r20 * x + r21 * y + r22 * z;
    } else if (form !== FIXED) {
      writeCosSin(q[i], turn);
      const c = turn[0], s = sign[i] * turn[1];
      // A turn about an axis of the frame mixes the two other columns: u' = c u + s v, v' = c v - s u.
      if (form === TURNS_Z) {
        x = r00; y = r01; r00 = x * c + y * s; r01 = y * c - x * s;
        x = r10; y = r11; r10 = x * c + y * s; r11 = y * c - x * s;
        x = r20; y = r21; r20 = x * c + y * s; r21 = y * c - x * s;
      } else if (form === TURNS_Y) {
        x = r02; y = r00; r02 = x * c + y * s; r00 = y * c - x * s;
        x = r12; y = r10; r12 = x * c + y * s; r10 = y * c - x * s;
        x = r22; y = r20; r22 = x * c + y * s; r20 = y * c - x * s;
      } else if (form === TURNS_X) {
        x = r01; y = r02; r01 = x * c + y * s; r02 = y * c - x * s;
        x = r11; y = r12; r11 = x * c + y * s; r12 = y * c - x * s;
        x = r21; y = r22; r21 = x * c + y * s; r22 = y * c - x * s;
      } else {
        // A row times the turn about the unit vector a is c·row + (1 - c)(row·a) a + s (row × a).
        const ax = along[i3], ay = along[i3 + 1], az = along[i3 + 2];
        let d = (1 - c) * (r00 * ax + r01 * ay + r02 * az);
        x = r00; y = r01; z = r02;
        r00 = c * x + d * ax + s * (y * az - z * ay); r01 = c * y + d * ay + s * (z * ax - x * az);
        r02 = c * z + d * az + s * (x * ay - y * ax);
        d = (1 - c) * (r10 * ax + r11 * ay + r12 * az);
        x = r10; y = r11; z = r12;
        r10 = c * x + d * ax + s * (y * az - z * ay); r11 = c * y + d * ay + s * (z * ax - x * az);
        r12 = c * z + d * az + s * (x * ay - y * ax);
        d = (1 - c) * (r20 * ax + r21 * ay + r22 * az);
        x = r20; y = r21; z = r22;
        r20 = c * x + d * ax + s * (y * az - z * ay); r21 = c * y + d * ay + s * (z * ax - x * az);
        r22 = c * z + d * az + s * (x * ay - y * ax);
      }
    }
    rotations[i9] = r00; rotations[i9 + 1] = r01; rotations[i9 + 2] = r02;
    rotations[i9 + 3] = r10; rotations[i9 + 4] = r11; rotations[i9 + 5] = r12;
    rotations[i9 + 6] = r20; rotations[i9 + 7] = r21; rotations[i9 + 8] = r22;
    positions[i3] = px; positions[i3 + 1] = py; positions[i3 + 2] = pz;
  }
  const last = count === 0 ? base.rotation : rotations;
  const at = Math.max(0, 9 * (count - 1));
  const f = chain.mountPosition;
  out.mountPosition[0] = px + r00 * f[0] + r01 * f[1] + r02 * f[2];
  out.mountPosition[1] = py + r10 * f[0] + r11 * f[1] + r12 * f[2];
  out.mountPosition[2] = pz + r20 * f[0] + r21 * f[1] + r22 * f[2];
  multiplyMatrices(last, at, chain.mountRotation, 0, out.mountRotation, 0);
}

/** Entrance pupil of a pose: flange + `pupil` [m] along the view. Writes (3,) into `out`. */
export function pupilPosition(pose: PoseBuffer, pupil: number, out: Float64Array): void {
  out[0] = pose.mountPosition[0] + pupil * pose.mountRotation[0];
  out[1] = pose.mountPosition[1] + pupil * pose.mountRotation[3];
  out[2] = pose.mountPosition[2] + pupil * pose.mountRotation[6];
}

function kindOf(type: "linear" | "rotary" | "fixed", along: readonly [number, number, number]): number {
  if (type === "fixed") return FIXED;
  if (type === "linear") return LINEAR;
  const axis = along.findIndex(
    (part, i) => Math.abs(part) === 1 && along[(i + 1) % 3] === 0 && along[(i + 2) % 3] === 0,
  );
  return axis < 0 ? TURNS_OBLIQUE : TURNS_X + axis;
}

function followersInOrder(rig: ResolvedRig): number[] {
  const order: number[] = [];
  const state = new Uint8Array(rig.joints.length);
  const visit = (index: number): void => {
    const follows = rig.joints[index].follows;
    never(state[index] === 1, "an axis follows itself in the end");
    if (!follows || state[index] === 2) return;
    state[index] = 1;
    visit(follows.leader);
    state[index] = 2;
    order.push(index);
  };
  rig.joints.forEach((_, index) => visit(index));
  return order;
}
