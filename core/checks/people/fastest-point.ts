import type { Convex } from "../../solid/convex.ts";

/** How a rigid thing moves: its turning w [rad/s], and the velocity v [m/s] of its point `at` [m]; all in the set. */
export interface RigidMotion {
  readonly turning: Float64Array;
  readonly velocity: Float64Array;
  readonly at: Float64Array;
}

/**
 * Speed of the fastest point of a moving convex body [m/s]. The speed |v + w × d| is a convex function of the point, so it
 * is greatest at a corner, on a rim or on a rounding of the hull: exact for every form of `Convex`.
 *
 * @param rotation, position The body's frame in the set: row-major (9,), (3,) [m].
 */
export function fastestPoint(
  { core, x, y, z, points, rounding }: Convex,
  rotation: ArrayLike<number>,
  position: ArrayLike<number>,
  motion: RigidMotion,
): number {
  const corner = (u: number, v: number, w: number): number => pointSpeed(rotation, position, motion, u, v, w, rounding);
  let most = 0;
  switch (core) {
    case "point":
      return corner(0, 0, 0);
    case "segment":
      return Math.max(corner(0, 0, z), corner(0, 0, -z));
    case "box":
      for (let k = 0; k < 8; k++) most = Math.max(most, corner(k & 1 ? x : -x, k & 2 ? y : -y, k & 4 ? z : -z));
      return most;
    case "cylinder":
      return Math.max(rimSpeed(rotation, position, motion, x, z), rimSpeed(rotation, position, motion, x, -z));
    case "points":
      for (let k = 0; k < points.length; k += 3) most = Math.max(most, corner(points[k], points[k + 1], points[k + 2]));
      return most;
  }
}

/**
 * The greatest speed within `rounding` of a point of the body. A step s from it adds w × s, which is of size |w| |s| at most
 * and square to w: √(v∥² + (v⊥ + |w| r)²).
 */
function pointSpeed(
  r: ArrayLike<number>,
  p: ArrayLike<number>,
  { turning: w, velocity, at }: RigidMotion,
  x: number,
  y: number,
  z: number,
  rounding: number,
): number {
  const dx = p[0] + r[0] * x + r[1] * y + r[2] * z - at[0];
  const dy = p[1] + r[3] * x + r[4] * y + r[5] * z - at[1];
  const dz = p[2] + r[6] * x + r[7] * y + r[8] * z - at[2];
  const vx = velocity[0] + w[1] * dz - w[2] * dy;
  const vy = velocity[1] + w[2] * dx - w[0] * dz;
  const vz = velocity[2] + w[0] * dy - w[1] * dx;
  const square = vx * vx + vy * vy + vz * vz;
  const turn = Math.sqrt(w[0] * w[0] + w[1] * w[1] + w[2] * w[2]);
  if (!(0 < turn * rounding)) return Math.sqrt(square);
  const along = (vx * w[0] + vy * w[1] + vz * w[2]) / turn;
  const across = Math.sqrt(Math.max(0, square - along * along)) + turn * rounding;
  return Math.sqrt(along * along + across * across);
}

/** Directions round a rim from which its fastest points are looked for: a wave of two periods has two of them at most. */
const STARTS = 16;

/**
 * The greatest speed on the rim of a cylinder. With a and b the velocities that one step along the body's x and y adds, the
 * square of the speed at angle φ is |v + a cos φ + b sin φ|²: waves of one and of two periods.
 */
function rimSpeed(
  r: ArrayLike<number>,
  p: ArrayLike<number>,
  { turning: w, velocity, at }: RigidMotion,
  radius: number,
  z: number,
): number {
  const dx = p[0] + r[2] * z - at[0];
  const dy = p[1] + r[5] * z - at[1];
  const dz = p[2] + r[8] * z - at[2];
  const vx = velocity[0] + w[1] * dz - w[2] * dy;
  const vy = velocity[1] + w[2] * dx - w[0] * dz;
  const vz = velocity[2] + w[0] * dy - w[1] * dx;
  const ax = radius * (w[1] * r[6] - w[2] * r[3]);
  const ay = radius * (w[2] * r[0] - w[0] * r[6]);
  const az = radius * (w[0] * r[3] - w[1] * r[0]);
  const bx = radius * (w[1] * r[7] - w[2] * r[4]);
  const by = radius * (w[2] * r[1] - w[0] * r[7]);
  const bz = radius * (w[0] * r[4] - w[1] * r[1]);
  const aa = ax * ax + ay * ay + az * az;
  const bb = bx * bx + by * by + bz * bz;
  const mean = vx * vx + vy * vy + vz * vz + (aa + bb) / 2;
  const c1 = 2 * (vx * ax + vy * ay + vz * az);
  const s1 = 2 * (vx * bx + vy * by + vz * bz);
  const c2 = (aa - bb) / 2;
  const s2 = ax * bx + ay * by + az * bz;
  return Math.sqrt(Math.max(0, mean + highestWave(c1, s1, c2, s2)));
}

/** The highest value of c1 cos φ + s1 sin φ + c2 cos 2φ + s2 sin 2φ. */
function highestWave(c1: number, s1: number, c2: number, s2: number): number {
  const value = (phi: number): number => {
    const [c, s] = [Math.cos(phi), Math.sin(phi)];
    return c1 * c + s1 * s + c2 * (c * c - s * s) + 2 * s2 * c * s;
  };
  const step = (2 * Math.PI) / STARTS;
  const around = Array.from({ length: STARTS }, (_, k) => value(k * step));
  let most = Math.max(...around);
  around.forEach((here, k) => {
    const [before, after] = [around[(k + STARTS - 1) % STARTS], around[(k + 1) % STARTS]];
    if (here < before || here < after) return;
    let phi = k * step;
    for (let n = 0; n < 8; n++) {
      const [c, s, c4, s4] = [Math.cos(phi), Math.sin(phi), Math.cos(2 * phi), Math.sin(2 * phi)];
      const slope = s1 * c - c1 * s + 2 * (s2 * c4 - c2 * s4);
      const bend = -(c1 * c + s1 * s) - 4 * (c2 * c4 + s2 * s4);
      if (!(bend < 0)) break;
      const by = Math.max(-step, Math.min(step, -slope / bend));
      phi += by;
      if (Math.abs(by) < 1e-12) break;
    }
    most = Math.max(most, value(phi));
  });
  return most;
}
