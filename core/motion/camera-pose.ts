import type { Descent } from "./descent.ts";
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

export function createCameraRoom(descent: Descent): CameraRoom {
  return {
    rotation: new Float64Array(9),
    flange: new Float64Array(3),
    along: new Float64Array(3 * descent.count),
    through: new Float64Array(3 * descent.count),
  };
}

/** Poses the camera for the axes' values in `series`, shape (axes, ROOM): the way of a descent backwards. */
export function poseCamera(descent: Descent, series: Float64Array, room: CameraRoom): void {
  const { rotation, flange, along, through } = room;
  const { count, origin: o, back: n, turns, axis, ratio, offset } = descent;
  // Columns of the frame, of which the last is each joint's direction.
  let [ax, ay, az] = [1, 0, 0];
  let [bx, by, bz] = [0, 1, 0];
  let [cx, cy, cz] = [0, 0, 1];
  let [x, y, z] = [0, 0, 0];
  for (let i = 0; i <= count; i++) {
    const i3 = 3 * i;
    const i9 = 9 * i;
    x += ax * o[i3] + bx * o[i3 + 1] + cx * o[i3 + 2];
    y += ay * o[i3] + by * o[i3 + 1] + cy * o[i3 + 2];
    z += az * o[i3] + bz * o[i3 + 1] + cz * o[i3 + 2];
    let dx = ax * n[i9] + bx * n[i9 + 3] + cx * n[i9 + 6];
    let dy = ay * n[i9] + by * n[i9 + 3] + cy * n[i9 + 6];
    let dz = az * n[i9] + bz * n[i9 + 3] + cz * n[i9 + 6];
    let ex = ax * n[i9 + 1] + bx * n[i9 + 4] + cx * n[i9 + 7];
    let ey = ay * n[i9 + 1] + by * n[i9 + 4] + cy * n[i9 + 7];
    let ez = az * n[i9 + 1] + bz * n[i9 + 4] + cz * n[i9 + 7];
    const fx = ax * n[i9 + 2] + bx * n[i9 + 5] + cx * n[i9 + 8];
    const fy = ay * n[i9 + 2] + by * n[i9 + 5] + cy * n[i9 + 8];
    const fz = az * n[i9 + 2] + bz * n[i9 + 5] + cz * n[i9 + 8];
    if (i < count) {
      along[i3] = fx;
      along[i3 + 1] = fy;
      along[i3 + 2] = fz;
      through[i3] = x;
      through[i3 + 1] = y;
      through[i3 + 2] = z;
      const q = ratio[i] * series[axis[i] * ROOM] + offset[i];
      if (turns[i] === 1) {
        const c = Math.cos(q);
        const s = Math.sin(q);
        const [gx, gy, gz] = [dx, dy, dz];
        dx = gx * c + ex * s;
        dy = gy * c + ey * s;
        dz = gz * c + ez * s;
        ex = ex * c - gx * s;
        ey = ey * c - gy * s;
        ez = ez * c - gz * s;
      } else {
        x += fx * q;
        y += fy * q;
        z += fz * q;
      }
    }
    ax = dx;
    ay = dy;
    az = dz;
    bx = ex;
    by = ey;
    bz = ez;
    cx = fx;
    cy = fy;
    cz = fz;
  }
  rotation[0] = ax;
  rotation[1] = bx;
  rotation[2] = cx;
  rotation[3] = ay;
  rotation[4] = by;
  rotation[5] = cy;
  rotation[6] = az;
  rotation[7] = bz;
  rotation[8] = cz;
  flange[0] = x;
  flange[1] = y;
  flange[2] = z;
}

/**
 * Velocity of the point `position` of the camera [m/s] for the axes' speeds in `series`; `slide` is the point's own speed
 * along the view (a zoom's pupil).
 */
export function writeVelocity(
  descent: Descent,
  series: Float64Array,
  room: CameraRoom,
  position: Float64Array,
  slide: number,
  out: Float64Array,
): void {
  const { rotation, along, through } = room;
  for (let axis = 0; axis < 3; axis++) out[axis] = slide * rotation[3 * axis];
  for (let i = 0; i < descent.count; i++) {
    const rate = descent.ratio[i] * series[descent.axis[i] * ROOM + 1];
    const x = along[3 * i];
    const y = along[3 * i + 1];
    const z = along[3 * i + 2];
    if (descent.turns[i] === 0) {
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
