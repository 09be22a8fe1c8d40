import { quatFromMatrix, type Quat } from "../core/base/quat.ts";
import { seededRandom, type Random } from "../core/base/random.ts";
import type { Vec3 } from "../core/base/vec3.ts";
import { createPoseBuffer, fillFollowers, forward, ownFrame, type Chain } from "../core/rig/chain.ts";

export type Start = "cold" | "warm";

/** A pose that is in reach, since it was made from joint values inside the ranges, and where to start from. */
export interface ReachCase {
  readonly position: Vec3;
  readonly turn: Quat;
  /** Row-major. */
  readonly rotation: Float64Array;
  readonly q: Float64Array;
  /** Cold: other values inside the ranges. Warm: 0.02 m or rad away, normally distributed, inside the ranges. */
  readonly start: Float64Array;
}

/** Position [m] and angle [rad] that a solution may be off, judged by forward kinematics of the axes it returns. */
export const REACHED = 1e-6;

export function reachCases(chain: Chain, start: Start, count: number, seed: number): ReachCase[] {
  const random = seededRandom(seed);
  const pose = createPoseBuffer(chain);
  const base = ownFrame();
  return Array.from({ length: count }, () => {
    const q = randomPose(chain, random);
    forward(chain, base, q, pose);
    const [x, y, z] = pose.mountPosition;
    const rotation = Float64Array.from(pose.mountRotation);
    const from = start === "cold" ? randomPose(chain, random) : nudged(chain, q, random);
    chain.rig.joints.forEach(({ role }, i) => role === "setup" && (from[i] = q[i]));
    return { position: [x, y, z], turn: quatFromMatrix(rotation), rotation, q, start: from };
  });
}

/** Joint values inside the ranges, uniformly drawn; followers filled. */
export function randomPose(chain: Chain, random: Random): Float64Array {
  const q = Float64Array.from(chain.rig.joints, ({ range, positions }) => {
    if (positions) return positions[Math.floor(random() * positions.length)];
    return range ? range.low + (range.high - range.low) * random() : 0;
  });
  fillFollowers(chain, q);
  return q;
}

function nudged({ rig }: Chain, q: Float64Array, random: Random): Float64Array {
  return Float64Array.from(q, (value, idx) => {
    const { range, role } = rig.joints[idx];
    const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    return range && role === "driven" ? Math.min(range.high, Math.max(range.low, value + 0.02 * normal)) : value;
  });
}

/** Whether joint values reach a case: both errors within `REACHED`, every joint inside its range, followers too. */
export function isSolved(chain: Chain, { position, rotation: w }: ReachCase, q: Float64Array): boolean {
  const pose = createPoseBuffer(chain);
  const values = Float64Array.from(q);
  fillFollowers(chain, values);
  forward(chain, ownFrame(), values, pose);
  const { mountRotation: m, mountPosition } = pose;
  const off = Math.hypot(...position.map((part, i) => part - mountPosition[i]));
  // |A - B| = 2 √2 sin(angle / 2) of two rotations.
  let square = 0;
  for (let i = 0; i < 9; i++) square += (m[i] - w[i]) ** 2;
  const angle = 2 * Math.asin(Math.min(1, Math.sqrt(square / 8)));
  const inside = chain.rig.joints.every(
    ({ range }, i) => !range || (range.low - 1e-9 <= values[i] && values[i] <= range.high + 1e-9),
  );
  return inside && off < REACHED && angle < REACHED;
}
