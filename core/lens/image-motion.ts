import { distort } from "./distortion.ts";
import { project, unproject } from "./project.ts";
import type { ResolvedOptics } from "./resolved-optics.ts";

/** What the functions below write. */
export interface ImageRoom {
  /** Velocity in the captured picture, to the right and down [captured px/s]; NaN where there is no picture. Shape (2,). */
  readonly motion: Float64Array;
  readonly plane: Float64Array;
  readonly ray: Float64Array;
  readonly rate: Float64Array;
}

export const createImageRoom = (): ImageRoom => ({
  motion: new Float64Array(2),
  plane: new Float64Array(5),
  ray: new Float64Array(3),
  rate: new Float64Array(3),
});

/** The focal length [m] and its rate [m/s]. */
export interface FocalMotion {
  readonly focal: number;
  readonly rate: number;
}

/**
 * How a point moves in the captured picture, into `room.motion`. In the camera's turning frame the point p moves by
 * ṗ = v - ω × p; the picture by the derivative of `project`.
 *
 * @param point    From the entrance pupil, in the camera frame [m], shape (3,).
 * @param velocity Of the point less that of the pupil, both seen from the set, in the camera's directions [m/s], shape (3,).
 * @param spin     Angular velocity of the camera, in its own directions [rad/s], shape (3,).
 * @returns False, and NaN, for a point that the lens forms no picture of.
 */
export function pointMotion(
  optics: ResolvedOptics,
  focal: FocalMotion,
  point: ArrayLike<number>,
  velocity: ArrayLike<number>,
  spin: ArrayLike<number>,
  room: ImageRoom,
): boolean {
  const { rate } = room;
  rate[0] = velocity[0] - (spin[1] * point[2] - spin[2] * point[1]);
  rate[1] = velocity[1] - (spin[2] * point[0] - spin[0] * point[2]);
  rate[2] = velocity[2] - (spin[0] * point[1] - spin[1] * point[0]);
  return rayMotion(optics, focal, point, room);
}

/**
 * How what is infinitely far and seen at a framing moves in the captured picture, into `room.motion`: only the turning of
 * the camera and a change of the focal length move it.
 *
 * @param across, down The framing, shares of the captured picture.
 * @param spin         As for `pointMotion`.
 * @returns False, and NaN, for a framing that the lens forms no picture at.
 */
export function farMotion(
  optics: ResolvedOptics,
  focal: FocalMotion,
  across: number,
  down: number,
  spin: ArrayLike<number>,
  room: ImageRoom,
): boolean {
  unproject(optics, focal.focal, across, down, room.ray);
  return pointMotion(optics, focal, room.ray, STILL, spin, room);
}

const STILL = [0, 0, 0] as const;

/** The derivative of `project` along `room.rate`; of p and ṗ only the direction and its change count. */
function rayMotion(optics: ResolvedOptics, focal: FocalMotion, point: ArrayLike<number>, room: ImageRoom): boolean {
  const { motion, plane, rate } = room;
  if (!project(optics, focal.focal, point[0], point[1], point[2], motion)) return false;
  const x = -point[1] / point[0];
  const y = -point[2] / point[0];
  const dx = -(rate[1] + x * rate[0]) / point[0];
  const dy = -(rate[2] + y * rate[0]) / point[0];
  let xd = x;
  let yd = y;
  let vx = dx;
  let vy = dy;
  if (optics.distortion) {
    distort(optics.distortion, x, y, plane);
    xd = plane[0];
    yd = plane[1];
    vx = plane[2] * dx + plane[3] * dy;
    vy = plane[3] * dx + plane[4] * dy;
  }
  const [w, h] = optics.resolution;
  motion[0] = ((focal.focal * vx + focal.rate * xd) * w) / (optics.squeeze * optics.sensor[0]);
  motion[1] = ((focal.focal * vy + focal.rate * yd) * h) / optics.sensor[1];
  return true;
}
