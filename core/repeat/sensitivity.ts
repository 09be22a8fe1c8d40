import { createImageRoom, pointMotion } from "../lens/image-motion.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { Instant } from "../motion/trajectory.ts";
import { baseFrame, compileRig, createPoseBuffer, FIXED, forward, LINEAR } from "../rig/chain.ts";

/**
 * How far the picture of a target moves for one unit of error of each axis, to first order.
 *
 * @param instant Posed; its rates are not read.
 * @param target  Index into the move's targets.
 * @param out     Shape (k, 2) for k axes: captured px to the right and down per m or rad. Wholly overwritten.
 * @returns False, and NaN, where the lens forms no picture of the target.
 */
export type Sensitivity = (instant: Instant, target: number, out: Float64Array) => boolean;

/**
 * The derivative of the framing by the axes as they stand, nothing solved again: an error of the head turns the camera off
 * its aim. A joint that turns about ω through c moves what the camera sees of a point p like one that moves by -ω × (p - c),
 * one that slides along d by -d; a turntable moves the point itself. What follows an axis moves along with its error.
 *
 * @param axes Indices into `move.axes`.
 */
export function createSensitivity(move: ResolvedMove, axes: readonly number[]): Sensitivity {
  const chain = compileRig(move.rig);
  const base = baseFrame(move.base);
  const pose = createPoseBuffer(chain);
  const values = new Float64Array(chain.count);
  const carried = axes.map((axis) => carriedJoints(move, axis));
  const image = createImageRoom();
  const focal = { focal: 0, rate: 0 };
  const [point, seen, moved, turned] = Array.from({ length: 4 }, () => new Float64Array(3));

  return (instant, target, out) => {
    move.axes.forEach(({ joint }, axis) => {
      if (0 <= joint) values[joint] = instant.value[axis];
    });
    forward(chain, base, values, pose);
    for (let i = 0; i < 3; i++) {
      point[i] = instant.targets[3 * target + i];
      moved[i] = point[i] - instant.position[i];
    }
    intoCamera(pose.mountRotation, moved, seen);
    focal.focal = instant.focal;
    let isSeen = true;
    for (let k = 0; k < axes.length; k++) {
      moved.fill(0);
      for (const { joint, ratio } of carried[k]) addJoint(joint, -ratio);
      const { turntable } = move.axes[axes[k]];
      if (0 <= turntable && move.targets[target].on === turntable) {
        const { at, along } = move.turntables[turntable];
        addTurn(along[0], along[1], along[2], at, 0, 1);
      }
      intoCamera(pose.mountRotation, moved, turned);
      isSeen = pointMotion(move.optics, focal, seen, turned, NO_SPIN, image) && isSeen;
      out[2 * k] = image.motion[0];
      out[2 * k + 1] = image.motion[1];
    }
    return isSeen;
  };

  /** Adds `by` times the velocity of the target as if it moved with a joint. */
  function addJoint(joint: number, by: number): void {
    const { rotations, positions } = pose;
    const { kind, along } = chain;
    if (kind[joint] === FIXED) return;
    const [r, a] = [9 * joint, 3 * joint];
    const x = rotations[r] * along[a] + rotations[r + 1] * along[a + 1] + rotations[r + 2] * along[a + 2];
    const y = rotations[r + 3] * along[a] + rotations[r + 4] * along[a + 1] + rotations[r + 5] * along[a + 2];
    const z = rotations[r + 6] * along[a] + rotations[r + 7] * along[a + 1] + rotations[r + 8] * along[a + 2];
    if (kind[joint] !== LINEAR) {
      addTurn(x, y, z, positions, a, by);
      return;
    }
    moved[0] += by * x;
    moved[1] += by * y;
    moved[2] += by * z;
  }

  function addTurn(x: number, y: number, z: number, centre: ArrayLike<number>, at: number, by: number): void {
    const [a, b, c] = [point[0] - centre[at], point[1] - centre[at + 1], point[2] - centre[at + 2]];
    moved[0] += by * (y * c - z * b);
    moved[1] += by * (z * a - x * c);
    moved[2] += by * (x * b - y * a);
  }
}

const NO_SPIN = [0, 0, 0] as const;

/** A direction of the set in the camera's own: the transpose of its row-major rotation times `v`. */
function intoCamera(r: Float64Array, v: Float64Array, out: Float64Array): void {
  for (let i = 0; i < 3; i++) out[i] = r[i] * v[0] + r[3 + i] * v[1] + r[6 + i] * v[2];
}

/** The joints that an error of an axis moves, and by how much: itself, and what follows it. */
function carriedJoints({ axes, rig }: ResolvedMove, axis: number): readonly { joint: number; ratio: number }[] {
  const own = axes[axis].joint;
  if (own < 0) return [];
  const ratioOf = (joint: number): number => {
    if (joint === own) return 1;
    const { follows } = rig.joints[joint];
    return follows ? follows.ratio * ratioOf(follows.leader) : 0;
  };
  return rig.joints.flatMap((_, joint) => {
    const ratio = ratioOf(joint);
    return ratio === 0 ? [] : [{ joint, ratio }];
  });
}
