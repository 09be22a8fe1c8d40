import { createPoseBuffer, FIXED, forward, LINEAR, type BaseFrame, type Chain, type PoseBuffer } from "./chain.ts";

/**
 * Caller-owned room for how every link of a chain moves at one instant, in the set frame (or whatever frame the base is
 * given in); the base itself is at rest. n joints; rows of three numbers x, y, z.
 */
export interface LinkMotion {
  /** Where the links are, and the mount. */
  readonly pose: PoseBuffer;
  /** Angular velocity of each link, shape (n, 3) [rad/s]. */
  readonly turning: Float64Array;
  /** Angular acceleration of each link, shape (n, 3) [rad/s²]. */
  readonly turningRate: Float64Array;
  /** Velocity of each link's origin, shape (n, 3) [m/s]. */
  readonly velocity: Float64Array;
  /** Acceleration of each link's origin, shape (n, 3) [m/s²]; without gravity. */
  readonly acceleration: Float64Array;
}

/** Caller-owned room for the motion of one point, each of shape (3,), in the frame of the links' motion. */
export interface PointMotion {
  /** [m] */
  readonly position: Float64Array;
  /** [m/s] */
  readonly velocity: Float64Array;
  /** [m/s²] */
  readonly acceleration: Float64Array;
}

export function createLinkMotion(chain: Chain): LinkMotion {
  return {
    pose: createPoseBuffer(chain),
    turning: new Float64Array(3 * chain.count),
    turningRate: new Float64Array(3 * chain.count),
    velocity: new Float64Array(3 * chain.count),
    acceleration: new Float64Array(3 * chain.count),
  };
}

export function createPointMotion(): PointMotion {
  return { position: new Float64Array(3), velocity: new Float64Array(3), acceleration: new Float64Array(3) };
}

/** Writes the speeds or the accelerations of followers into `rates` from their leaders'. Shape (n,). */
export function fillFollowerRates(chain: Chain, rates: Float64Array): void {
  const { followers, leader, ratio } = chain;
  for (let k = 0; k < followers.length; k++) {
    const index = followers[k];
    rates[index] = ratio[index] * rates[leader[index]];
  }
}

/**
 * How all links move: the outward half of the recursion of Newton and Euler (Luh, Walker and Paul, 1980), from the base
 * to the camera. Allocates nothing.
 *
 * @param base   Frame of the base in the set (`baseFrame`): lean and heading are in it.
 * @param q      Shape (n,): values of the joints, followers filled, fixed ones ignored. Rotary [rad], linear [m].
 * @param speeds Shape (n,): their speeds [per s], followers filled (`fillFollowerRates`).
 * @param accels Shape (n,): their accelerations [per s²], followers filled.
 * @param out    Room from `createLinkMotion`; wholly overwritten.
 */
export function moveLinks(
  chain: Chain,
  base: BaseFrame,
  q: Float64Array,
  speeds: Float64Array,
  accels: Float64Array,
  out: LinkMotion,
): void {
  const { count, kind, along } = chain;
  const { pose, turning, turningRate, velocity, acceleration } = out;
  forward(chain, base, q, pose);
  const { rotations: r, positions } = pose;
  // Of the link before: its place p, how it turns (w, e) and how its origin moves (v, a).
  // prettier-ignore
  let px = base.position[0], py = base.position[1], pz = base.position[2];
  // prettier-ignore
  let wx = 0, wy = 0, wz = 0, ex = 0, ey = 0, ez = 0, vx = 0, vy = 0, vz = 0, ax = 0, ay = 0, az = 0;
  // prettier-ignore
  for (let i = 0, i3 = 0, i9 = 0; i < count; i++, i3 += 3, i9 += 9) {
    const dx = positions[i3] - px, dy = positions[i3 + 1] - py, dz = positions[i3 + 2] - pz;
    // As a point of the link before: v + w × d, and a + e × d + w × (w × d).
    let ux = wy * dz - wz * dy, uy = wz * dx - wx * dz, uz = wx * dy - wy * dx;
    ax += ey * dz - ez * dy + wy * uz - wz * uy;
    ay += ez * dx - ex * dz + wz * ux - wx * uz;
    az += ex * dy - ey * dx + wx * uy - wy * ux;
    vx += ux; vy += uy; vz += uz;
    if (kind[i] !== FIXED) {
      // A joint's own motion leaves its direction alone, so the link frame after it serves.
      const lx = along[i3], ly = along[i3 + 1], lz = along[i3 + 2];
      const zx = r[i9] * lx + r[i9 + 1] * ly + r[i9 + 2] * lz;
      const zy = r[i9 + 3] * lx + r[i9 + 4] * ly + r[i9 + 5] * lz;
      const zz = r[i9 + 6] * lx + r[i9 + 7] * ly + r[i9 + 8] * lz;
      const speed = speeds[i], accel = accels[i];
      // The direction is carried by the link before: its rate is w × z, which a sliding point meets twice (Coriolis).
      ux = wy * zz - wz * zy; uy = wz * zx - wx * zz; uz = wx * zy - wy * zx;
      if (kind[i] === LINEAR) {
        vx += zx * speed; vy += zy * speed; vz += zz * speed;
        ax += zx * accel + 2 * ux * speed; ay += zy * accel + 2 * uy * speed; az += zz * accel + 2 * uz * speed;
      } else {
        ex += zx * accel + ux * speed; ey += zy * accel + uy * speed; ez += zz * accel + uz * speed;
        wx += zx * speed; wy += zy * speed; wz += zz * speed;
      }
    }
    px += dx; py += dy; pz += dz;
    turning[i3] = wx; turning[i3 + 1] = wy; turning[i3 + 2] = wz;
    turningRate[i3] = ex; turningRate[i3 + 1] = ey; turningRate[i3 + 2] = ez;
    velocity[i3] = vx; velocity[i3 + 1] = vy; velocity[i3 + 2] = vz;
    acceleration[i3] = ax; acceleration[i3 + 1] = ay; acceleration[i3 + 2] = az;
  }
}

/**
 * Where a point of a link is and how it moves. Allocates nothing.
 *
 * @param motion From `moveLinks`.
 * @param link   Joint index, -1 for the base.
 * @param at     Shape (3 or more,): the point in the link's frame [m], from index `k` on.
 * @param out    Room from `createPointMotion`; wholly overwritten.
 */
export function movePoint(
  base: BaseFrame,
  motion: LinkMotion,
  link: number,
  at: ArrayLike<number>,
  k: number,
  out: PointMotion,
): void {
  const { position, velocity, acceleration } = out;
  const isBase = link < 0;
  const i3 = isBase ? 0 : 3 * link;
  const i9 = isBase ? 0 : 9 * link;
  const r = isBase ? base.rotation : motion.pose.rotations;
  const start = isBase ? base.position : motion.pose.positions;
  const x = at[k];
  const y = at[k + 1];
  const z = at[k + 2];
  const dx = r[i9] * x + r[i9 + 1] * y + r[i9 + 2] * z;
  const dy = r[i9 + 3] * x + r[i9 + 4] * y + r[i9 + 5] * z;
  const dz = r[i9 + 6] * x + r[i9 + 7] * y + r[i9 + 8] * z;
  position[0] = start[i3] + dx;
  position[1] = start[i3 + 1] + dy;
  position[2] = start[i3 + 2] + dz;
  if (isBase) {
    velocity.fill(0);
    acceleration.fill(0);
    return;
  }
  const { turning: w, turningRate: e } = motion;
  const ux = w[i3 + 1] * dz - w[i3 + 2] * dy;
  const uy = w[i3 + 2] * dx - w[i3] * dz;
  const uz = w[i3] * dy - w[i3 + 1] * dx;
  velocity[0] = motion.velocity[i3] + ux;
  velocity[1] = motion.velocity[i3 + 1] + uy;
  velocity[2] = motion.velocity[i3 + 2] + uz;
  acceleration[0] = motion.acceleration[i3] + e[i3 + 1] * dz - e[i3 + 2] * dy + w[i3 + 1] * uz - w[i3 + 2] * uy;
  acceleration[1] = motion.acceleration[i3 + 1] + e[i3 + 2] * dx - e[i3] * dz + w[i3 + 2] * ux - w[i3] * uz;
  acceleration[2] = motion.acceleration[i3 + 2] + e[i3] * dy - e[i3 + 1] * dx + w[i3] * uy - w[i3 + 1] * ux;
}
