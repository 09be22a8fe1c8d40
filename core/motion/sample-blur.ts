import { exposureTime } from "../lens/exposure.ts";
import { createImageRoom, pointMotion, type ImageRoom } from "../lens/image-motion.ts";
import { writeSpin, writeVelocity } from "./camera-pose.ts";
import type { EvaluateRoom } from "./evaluate.ts";
import { posedPupilTerm, writeFocusRates } from "./focus-distance.ts";
import type { MoveModel } from "./move-model.ts";
import { ROOM } from "./series.ts";
import type { Take } from "./take.ts";

/** What the functions below write. Velocities in the set until they are turned into the camera's directions. */
export interface BlurRoom {
  readonly image: ImageRoom;
  /** Of the entrance pupil [m/s] and of the camera's turning [rad/s], both in the set, shape (3,). */
  readonly velocity: Float64Array;
  readonly spin: Float64Array;
  /** Of one target, in the camera's directions: place [m], velocity against the pupil [m/s], turning [rad/s]. */
  readonly point: Float64Array;
  readonly passing: Float64Array;
  readonly turning: Float64Array;
  readonly focal: { focal: number; rate: number };
}

export const createBlurRoom = (): BlurRoom => ({
  image: createImageRoom(),
  velocity: new Float64Array(3),
  spin: new Float64Array(3),
  point: new Float64Array(3),
  passing: new Float64Array(3),
  turning: new Float64Array(3),
  focal: { focal: 0, rate: 0 },
});

/** How the camera moves at the instant at which `writeRow` has posed it. Allocates nothing. */
export function moveCamera(
  model: MoveModel,
  room: EvaluateRoom,
  out: BlurRoom,
  interval: number,
  take: Take,
  row: number,
): void {
  const { camera, solve, focus } = room;
  const { chain } = solve.kernels;
  const { pupil } = model.move.optics;
  // The pupil slides with the focus of some lenses alone.
  if (Number.isNaN(model.stillPupil) && pupil.near.length > 1)
    writeFocusRates(model, chain, focus, solve.series, interval);
  const slide = posedPupilTerm(model, focus, solve.series, interval, 1);
  for (let axis = 0; axis < 3; axis++) out.point[axis] = take.position[3 * row + axis];
  writeVelocity(chain, solve.series, camera, out.point, slide, out.velocity);
  writeSpin(chain, solve.series, camera, out.spin);
  inCamera(camera.rotation, out.spin, out.turning);
  out.focal.focal = take.focal[row];
  out.focal.rate = solve.series[model.focal * ROOM + 1];
}

/**
 * How far a target moves in the captured picture while the shutter is open, to the right and down [captured px], into
 * `take.blur`: its velocity at the instant times the exposure. NaN where the lens forms no picture of it.
 *
 * @param place The target's place in the set and its velocity, as `writeTarget` gives them with order 1.
 * @param at    Index of the target's row in tables of shape (n m, …).
 */
export function writeBlur(
  model: MoveModel,
  room: EvaluateRoom,
  out: BlurRoom,
  take: Take,
  row: number,
  at: number,
): void {
  if (!take.blur) return;
  const { place, camera } = room;
  const { optics, rate } = model.move;
  for (let axis = 0; axis < 3; axis++) {
    room.sight[axis] = place[axis * ROOM] - take.position[3 * row + axis];
  }
  inCamera(camera.rotation, room.sight, out.point);
  for (let axis = 0; axis < 3; axis++) room.sight[axis] = place[axis * ROOM + 1] - out.velocity[axis];
  inCamera(camera.rotation, room.sight, out.passing);
  pointMotion(optics, out.focal, out.point, out.passing, out.turning, out.image);
  const exposure = exposureTime(optics.shutter, rate);
  take.blur[2 * at] = out.image.motion[0] * exposure;
  take.blur[2 * at + 1] = out.image.motion[1] * exposure;
}

/** A vector of the set in the camera's directions. */
function inCamera(r: Float64Array, v: Float64Array, out: Float64Array): void {
  for (let c = 0; c < 3; c++) out[c] = r[c] * v[0] + r[3 + c] * v[1] + r[6 + c] * v[2];
}
