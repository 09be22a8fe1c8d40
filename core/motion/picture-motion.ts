import { framingAngle } from "../lens/field-of-view.ts";
import { createImageRoom, farMotion, pointMotion, type ImageRoom } from "../lens/image-motion.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import type { Instant } from "./trajectory.ts";

/** What the functions below write; `image.motion` is the velocity that was asked for last [captured px/s], shape (2,). */
export interface PictureRoom {
  readonly image: ImageRoom;
  readonly point: Float64Array;
  readonly velocity: Float64Array;
  readonly spin: Float64Array;
  /** A focal length [m] and the angle that the delivered width spans at it [rad]. */
  readonly width: Float64Array;
}

export const createPictureRoom = (): PictureRoom => ({
  image: createImageRoom(),
  point: new Float64Array(3),
  velocity: new Float64Array(3),
  spin: new Float64Array(3),
  width: new Float64Array(2),
});

/**
 * How fast a target moves in the captured picture [captured px/s].
 *
 * @param instant With its rates.
 * @param target  Index into `move.targets`.
 * @returns NaN where it is behind the camera, or where the lens forms no picture of it.
 */
export function targetSpeed({ optics }: ResolvedMove, instant: Instant, target: number, room: PictureRoom): number {
  const { position, velocity, targets, targetVelocity } = instant;
  for (let axis = 0; axis < 3; axis++) {
    room.point[axis] = targets[3 * target + axis] - position[axis];
    room.velocity[axis] = targetVelocity[3 * target + axis] - velocity[axis];
  }
  toCamera(instant, room.point);
  toCamera(instant, room.velocity);
  const focal = { focal: instant.focal, rate: instant.focalRates[0] };
  pointMotion(optics, focal, room.point, room.velocity, spinOf(instant, room), room.image);
  return speedOf(room);
}

/**
 * How fast the far background moves in the captured picture [captured px/s]: what is infinitely far and seen at a framing,
 * so that only turning and zooming move it.
 *
 * @param instant      With its rates.
 * @param across, down The framing, shares of the captured picture.
 * @returns NaN where the lens forms no picture.
 */
export function backgroundSpeed(
  { optics }: ResolvedMove,
  instant: Instant,
  across: number,
  down: number,
  room: PictureRoom,
): number {
  const focal = { focal: instant.focal, rate: instant.focalRates[0] };
  farMotion(optics, focal, across, down, spinOf(instant, room), room.image);
  return speedOf(room);
}

/**
 * How fast the far background passes across the delivered picture, on the mean over its width [captured px/s]: by this
 * speed the width is crossed in the time in which the camera turns by its angle of view, as a pan is timed.
 *
 * @param instant With its rates.
 * @returns NaN where the lens forms no picture at an edge.
 */
export function backgroundPace(move: ResolvedMove, instant: Instant, room: PictureRoom): number {
  const { optics, deliver } = move;
  if (room.width[0] !== instant.focal) {
    const half = deliver[0] / optics.resolution[0] / 2;
    room.width[0] = instant.focal;
    room.width[1] = framingAngle(optics, instant.focal, [0.5 - half, 0.5], [0.5 + half, 0.5]);
  }
  const [, left, up] = spinOf(instant, room);
  // A turn about the view rolls the picture, it does not pass.
  return (deliver[0] * Math.hypot(left, up)) / room.width[1];
}

/** The same as `backgroundSpeed` at that middle of an edge of the delivered picture where it is fastest. */
export function edgeSpeed(move: ResolvedMove, instant: Instant, room: PictureRoom): number {
  const [w, h] = move.optics.resolution;
  const [x, y] = [move.deliver[0] / w / 2, move.deliver[1] / h / 2];
  return Math.max(
    ...[-1, 1].flatMap((side) => [
      backgroundSpeed(move, instant, 0.5 + side * x, 0.5, room),
      backgroundSpeed(move, instant, 0.5, 0.5 + side * y, room),
    ]),
  );
}

function spinOf(instant: Instant, room: PictureRoom): Float64Array {
  room.spin.set(instant.spin);
  toCamera(instant, room.spin);
  return room.spin;
}

const speedOf = ({ image: { motion } }: PictureRoom): number => Math.hypot(motion[0], motion[1]);

/** Turns a vector of the set into the camera's directions, in place: by the inverse of the camera's quaternion. */
function toCamera({ rotation }: Instant, v: Float64Array): void {
  const x = -rotation[0];
  const y = -rotation[1];
  const z = -rotation[2];
  const w = rotation[3];
  const tx = 2 * (y * v[2] - z * v[1]);
  const ty = 2 * (z * v[0] - x * v[2]);
  const tz = 2 * (x * v[1] - y * v[0]);
  const a = v[0] + w * tx + y * tz - z * ty;
  const b = v[1] + w * ty + z * tx - x * tz;
  const c = v[2] + w * tz + x * ty - y * tx;
  v[0] = a;
  v[1] = b;
  v[2] = c;
}
