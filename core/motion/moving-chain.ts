import type { CameraRoom } from "./camera-pose.ts";
import type { Descent } from "./descent.ts";
import { ROOM } from "./series.ts";

/**
 * A descent without the steps whose axes rest throughout a move: they are folded into the others. A turning step takes
 * y = N (x - o) and turns it by -q about z; a sliding step is x less q times a direction, in the frame that it is in.
 */
export interface MovingChain {
  readonly count: number;
  /** Shape (count,): 1 for a turning step, 0 for a sliding one. */
  readonly turns: Uint8Array;
  /** Shape (count + 1, 9), row-major; of a sliding step the first three are its direction. The last leads to the flange. */
  readonly rotation: Float64Array;
  /** Shape (count + 1, 3) [m]; 0 for a sliding step. */
  readonly origin: Float64Array;
  /** Joint value = ratio · axis + offset, shape (count,). */
  readonly axis: Int32Array;
  readonly ratio: Float64Array;
  readonly offset: Float64Array;
}

/** Values of the joints and their sines and cosines at one instant, each of shape (count,). */
export interface JointRoom {
  readonly q: Float64Array;
  readonly sin: Float64Array;
  readonly cos: Float64Array;
}

export function createJointRoom({ count }: MovingChain): JointRoom {
  return { q: new Float64Array(count), sin: new Float64Array(count), cos: new Float64Array(count) };
}

/**
 * @param rests  True for an axis that never moves.
 * @param values Values of the resting axes at their places in series, shape (axes, ROOM).
 */
export function movingChain(descent: Descent, rests: (axis: number) => boolean, values: Float64Array): MovingChain {
  const kept = Array.from({ length: descent.count }, (_, i) => i).filter((i) => !rests(descent.axis[i]));
  const chain: MovingChain = {
    count: kept.length,
    turns: Uint8Array.from(kept, (i) => descent.turns[i]),
    rotation: new Float64Array(9 * (kept.length + 1)),
    origin: new Float64Array(3 * (kept.length + 1)),
    axis: Int32Array.from(kept, (i) => descent.axis[i]),
    ratio: Float64Array.from(kept, (i) => descent.ratio[i]),
    offset: Float64Array.from(kept, (i) => descent.offset[i]),
  };
  // What is left to do before the next turning step: y = M (x - c).
  let m: number[] = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  let c: number[] = [0, 0, 0];
  let step = 0;
  for (let i = 0; i <= descent.count; i++) {
    const shift = turnedBack(m, descent.origin[3 * i], descent.origin[3 * i + 1], descent.origin[3 * i + 2]);
    c = c.map((part, axis) => part + shift[axis]);
    m = product(Array.from(descent.rotation.subarray(9 * i, 9 * i + 9)), m);
    const isKept = i < descent.count && kept[step] === i;
    if (isKept && descent.turns[i] === 0) {
      chain.rotation.set(turnedBack(m, 0, 0, 1), 9 * step++);
    } else if (isKept || i === descent.count) {
      chain.rotation.set(m, 9 * step);
      chain.origin.set(c, 3 * step++);
      m = [1, 0, 0, 0, 1, 0, 0, 0, 1];
      c = [0, 0, 0];
    } else {
      const q = descent.ratio[i] * values[descent.axis[i] * ROOM] + descent.offset[i];
      if (descent.turns[i] === 0) {
        const slide = turnedBack(m, 0, 0, q);
        c = c.map((part, axis) => part + slide[axis]);
      } else {
        const [cos, sin] = [Math.cos(q), Math.sin(q)];
        m = product([cos, sin, 0, -sin, cos, 0, 0, 0, 1], m);
      }
    }
  }
  return chain;
}

/** Joint values, sines and cosines from the axes' values. */
export function writeJoints(chain: MovingChain, series: Float64Array, room: JointRoom): void {
  for (let i = 0; i < chain.count; i++) {
    const q = chain.ratio[i] * series[chain.axis[i] * ROOM] + chain.offset[i];
    room.q[i] = q;
    if (chain.turns[i] === 0) continue;
    room.sin[i] = Math.sin(q);
    room.cos[i] = Math.cos(q);
  }
}

/** Poses the camera from `joints`: the way of a descent backwards. */
export function poseMoving(chain: MovingChain, joints: JointRoom, room: CameraRoom): void {
  const { rotation, flange, along, through } = room;
  const { count, origin: o, rotation: n, turns } = chain;
  // Columns of the frame, of which the last is each turning joint's direction.
  let ax = 1;
  let ay = 0;
  let az = 0;
  let bx = 0;
  let by = 1;
  let bz = 0;
  let cx = 0;
  let cy = 0;
  let cz = 1;
  let x = 0;
  let y = 0;
  let z = 0;
  for (let i = 0; i <= count; i++) {
    const i3 = 3 * i;
    const i9 = 9 * i;
    if (i < count && turns[i] === 0) {
      const dx = ax * n[i9] + bx * n[i9 + 1] + cx * n[i9 + 2];
      const dy = ay * n[i9] + by * n[i9 + 1] + cy * n[i9 + 2];
      const dz = az * n[i9] + bz * n[i9 + 1] + cz * n[i9 + 2];
      const q = joints.q[i];
      along[i3] = dx;
      along[i3 + 1] = dy;
      along[i3 + 2] = dz;
      x += dx * q;
      y += dy * q;
      z += dz * q;
      continue;
    }
    x += ax * o[i3] + bx * o[i3 + 1] + cx * o[i3 + 2];
    y += ay * o[i3] + by * o[i3 + 1] + cy * o[i3 + 2];
    z += az * o[i3] + bz * o[i3 + 1] + cz * o[i3 + 2];
    const dx = ax * n[i9] + bx * n[i9 + 1] + cx * n[i9 + 2];
    const dy = ay * n[i9] + by * n[i9 + 1] + cy * n[i9 + 2];
    const dz = az * n[i9] + bz * n[i9 + 1] + cz * n[i9 + 2];
    const ex = ax * n[i9 + 3] + bx * n[i9 + 4] + cx * n[i9 + 5];
    const ey = ay * n[i9 + 3] + by * n[i9 + 4] + cy * n[i9 + 5];
    const ez = az * n[i9 + 3] + bz * n[i9 + 4] + cz * n[i9 + 5];
    const fx = ax * n[i9 + 6] + bx * n[i9 + 7] + cx * n[i9 + 8];
    const fy = ay * n[i9 + 6] + by * n[i9 + 7] + cy * n[i9 + 8];
    const fz = az * n[i9 + 6] + bz * n[i9 + 7] + cz * n[i9 + 8];
    cx = fx;
    cy = fy;
    cz = fz;
    let c = 1;
    let s = 0;
    if (i < count) {
      along[i3] = fx;
      along[i3 + 1] = fy;
      along[i3 + 2] = fz;
      through[i3] = x;
      through[i3 + 1] = y;
      through[i3 + 2] = z;
      c = joints.cos[i];
      s = joints.sin[i];
    }
    ax = dx * c + ex * s;
    ay = dy * c + ey * s;
    az = dz * c + ez * s;
    bx = ex * c - dx * s;
    by = ey * c - dy * s;
    bz = ez * c - dz * s;
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

/** Mᵀ (x, y, z). */
function turnedBack(m: readonly number[], x: number, y: number, z: number): number[] {
  return [0, 1, 2].map((column) => m[column] * x + m[3 + column] * y + m[6 + column] * z);
}

function product(a: readonly number[], b: readonly number[]): number[] {
  return Array.from({ length: 9 }, (_, i) => {
    const [row, column] = [3 * Math.floor(i / 3), i % 3];
    return a[row] * b[column] + a[row + 1] * b[3 + column] + a[row + 2] * b[6 + column];
  });
}
