import { multiplyMatrices, transformPoint, turnAbout, turnColumns } from "../base/matrix3.ts";
import { never } from "../base/never.ts";
import { matrixFromQuat } from "../base/quat.ts";
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
  const { count, kind, sign, turned, originRotation, originPosition, along } = chain;
  const { rotations, positions } = out;
  let parentRotation = base.rotation;
  let parentPosition = base.position;
  let p9 = 0;
  let p3 = 0;
  for (let i = 0, i3 = 0, i9 = 0; i < count; i++, i3 += 3, i9 += 9) {
    const o = originPosition;
    transformPoint(parentPosition, p3, parentRotation, p9, o[i3], o[i3 + 1], o[i3 + 2], positions, i3);
    if (turned[i] === 1) multiplyMatrices(parentRotation, p9, originRotation, i9, rotations, i9);
    else for (let k = 0; k < 9; k++) rotations[i9 + k] = parentRotation[p9 + k];
    const form = kind[i];
    if (form === LINEAR) {
      const d = q[i];
      transformPoint(positions, i3, rotations, i9, along[i3] * d, along[i3 + 1] * d, along[i3 + 2] * d, positions, i3);
    } else if (form !== FIXED) {
      const c = Math.cos(q[i]);
      const s = Math.sin(q[i]) * sign[i];
      // A turn about an axis of the frame mixes the two other columns only.
      if (form === TURNS_Z) turnColumns(rotations, i9, 0, 1, c, s);
      else if (form === TURNS_Y) turnColumns(rotations, i9, 2, 0, c, s);
      else if (form === TURNS_X) turnColumns(rotations, i9, 1, 2, c, s);
      else turnAbout(rotations, i9, along[i3], along[i3 + 1], along[i3 + 2], c, s);
    }
    parentRotation = rotations;
    parentPosition = positions;
    p9 = i9;
    p3 = i3;
  }
  const m = chain.mountPosition;
  transformPoint(parentPosition, p3, parentRotation, p9, m[0], m[1], m[2], out.mountPosition, 0);
  multiplyMatrices(parentRotation, p9, chain.mountRotation, 0, out.mountRotation, 0);
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
