import type { MovingChain } from "./moving-chain.ts";
import { ROOM } from "./series.ts";

/** Room for the camera's place at one instant. */
export interface CameraRoom {
  /** Camera frame in the set, row-major; flange and pupil [m]. */
  readonly rotation: Float64Array;
  readonly flange: Float64Array;
  /** Direction and a point of each step's joint in the set, shape (steps, 3) [m]. */
  readonly along: Float64Array;
  readonly through: Float64Array;
}

/** @param count Steps of the chain. */
export function createCameraRoom(count: number): CameraRoom {
  return {
    rotation: new Float64Array(9),
    flange: new Float64Array(3),
    along: new Float64Array(3 * count),
    through: new Float64Array(3 * count),
  };
}

/**
 * Velocity of the point `position` of the camera [m/s] for the axes' speeds in `series`; `slide` is the point's own speed
 * along the view (a zoom's pupil).
 */
export function writeVelocity(
  chain: MovingChain,
  series: Float64Array,
  room: CameraRoom,
  position: Float64Array,
  slide: number,
  out: Float64Array,
): void {
  const { rotation, along, through } = room;
  for (let axis = 0; axis < 3; axis++) out[axis] = slide * rotation[3 * axis];
  for (let i = 0; i < chain.count; i++) {
    const rate = chain.ratio[i] * series[chain.axis[i] * ROOM + 1];
    const x = along[3 * i];
    const y = along[3 * i + 1];
    const z = along[3 * i + 2];
    if (chain.turns[i] === 0) {
      out[0] += rate * x;
      out[1] += rate * y;
      out[2] += rate * z;
      continue;
    }
    const a = position[0] - through[3 * i];
    const b = position[1] - through[3 * i + 1];
    const c = position[2] - through[3 * i + 2];
    out[0] += rate * (y * c - z * b);
    out[1] += rate * (z * a - x * c);
    out[2] += rate * (x * b - y * a);
  }
}

/** Angular velocity of the camera in the set [rad/s] for the axes' speeds in `series`. */
export function writeSpin(chain: MovingChain, series: Float64Array, { along }: CameraRoom, out: Float64Array): void {
  out.fill(0);
  for (let i = 0; i < chain.count; i++) {
    if (chain.turns[i] === 0) continue;
    const rate = chain.ratio[i] * series[chain.axis[i] * ROOM + 1];
    for (let axis = 0; axis < 3; axis++) out[axis] += rate * along[3 * i + axis];
  }
}

/** Quaternion [x, y, z, w] of a row-major rotation, w >= 0, into `out`. Divides by its largest part; allocates nothing. */
export function writeQuaternion(m: Float64Array, out: Float64Array): void {
  const trace = m[0] + m[4] + m[8];
  const w = 1 + trace;
  const x = 1 + 2 * m[0] - trace;
  const y = 1 + 2 * m[4] - trace;
  const z = 1 + 2 * m[8] - trace;
  if (x <= w && y <= w && z <= w) set(out, m[7] - m[5], m[2] - m[6], m[3] - m[1], w);
  else if (y <= x && z <= x) set(out, x, m[1] + m[3], m[2] + m[6], m[7] - m[5]);
  else if (z <= y) set(out, m[1] + m[3], y, m[5] + m[7], m[2] - m[6]);
  else set(out, m[2] + m[6], m[5] + m[7], z, m[3] - m[1]);
}

function set(out: Float64Array, x: number, y: number, z: number, w: number): void {
  const size = (w < 0 ? -1 : 1) * Math.sqrt(x * x + y * y + z * z + w * w);
  out[0] = x / size;
  out[1] = y / size;
  out[2] = z / size;
  out[3] = w / size;
}
