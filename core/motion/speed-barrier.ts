import { POINTS, type LimitRows } from "./limit-rows.ts";
import { BASIS } from "./squared-speed.ts";

/** What one Newton step is found from. Shapes for n + 2 coefficients: gradient (n + 2,), bands (n + 2, 3). */
export interface BarrierRoom {
  readonly gradient: Float64Array;
  readonly bands: Float64Array;
  /** b, b', b'' of one point, and its own gradient (3,) and upper Hessian 00 01 02 11 12 22. */
  readonly square: Float64Array;
  readonly local: Float64Array;
  readonly upper: Float64Array;
}

export function createBarrierRoom(rows: LimitRows): BarrierRoom {
  const size = rows.nodes.length + 1;
  return {
    gradient: new Float64Array(size),
    bands: new Float64Array(3 * size),
    square: new Float64Array(3),
    local: new Float64Array(3),
    upper: new Float64Array(6),
  };
}

/** b, b' and b'' of point `p` into `room.square`. */
function writePoint(rows: LimitRows, c: Float64Array, p: number, room: BarrierRoom): void {
  const i = (p / POINTS) | 0;
  const at = p * BASIS;
  const { basis } = rows;
  for (let k = 0; k < 3; k++) {
    const row = at + 3 * k;
    room.square[k] = basis[row] * c[i] + basis[row + 1] * c[i + 1] + basis[row + 2] * c[i + 2];
  }
}

/**
 * Time plus `mu` times the logarithmic barrier of all limits, -Σ log(slack).
 *
 * @returns Infinity where a limit is met or broken.
 */
export function barrierValue(rows: LimitRows, c: Float64Array, mu: number, room: BarrierRoom): number {
  const { square } = room;
  const { accel, jerk } = rows;
  let time = 0;
  let logs = 0;
  for (let p = 0; p < rows.weight.length; p++) {
    writePoint(rows, c, p, room);
    const [b, b1, b2] = square;
    if (!(0 < b)) return Infinity;
    time += rows.weight[p] / Math.sqrt(b);
    let slack = 1 - rows.cap[p] * b;
    if (!(0 < slack)) return Infinity;
    for (let row = rows.accelFrom[p]; row < rows.accelFrom[p + 1]; row++) {
      const f = accel[2 * row] * b + accel[2 * row + 1] * b1;
      const left = 1 - f * f;
      if (!(0 < left)) return Infinity;
      slack *= left;
    }
    logs -= Math.log(slack);
    slack = 1;
    const limit = 1 / b;
    for (let row = rows.jerkFrom[p]; row < rows.jerkFrom[p + 1]; row++) {
      const f = jerk[3 * row] * b + jerk[3 * row + 1] * b1 + jerk[3 * row + 2] * b2;
      const left = limit - f * f;
      if (!(0 < left)) return Infinity;
      slack *= left;
    }
    logs -= Math.log(slack);
  }
  return time + mu * logs;
}

/**
 * Gradient of `barrierValue` and a Hessian that is positive definite into `room`. The slack 1/√b - f of a jerk is convex in
 * b; what its curvature would take from the Hessian is left out. So the step is that of the limit's tangent, within which
 * the limit holds as well.
 */
export function writeNewton(rows: LimitRows, c: Float64Array, mu: number, room: BarrierRoom): void {
  room.gradient.fill(0);
  room.bands.fill(0);
  for (let p = 0; p < rows.weight.length; p++) {
    writePoint(rows, c, p, room);
    writeLocal(rows, p, mu, room);
    gather(rows, p, room);
  }
}

function writeLocal(rows: LimitRows, p: number, mu: number, { square, local, upper }: BarrierRoom): void {
  const { accel, jerk } = rows;
  const [b, b1, b2] = square;
  const root = 1 / Math.sqrt(b);
  const fall = -0.5 * root ** 3;
  const weight = rows.weight[p] / mu;
  const cap = rows.cap[p] / (1 - rows.cap[p] * b);
  let g0 = weight * fall + cap;
  let h00 = weight * 0.75 * root ** 5 + cap * cap;
  let [g1, g2, h01, h02, h11, h12, h22] = [0, 0, 0, 0, 0, 0, 0];
  for (let row = rows.accelFrom[p]; row < rows.accelFrom[p + 1]; row++) {
    const x = accel[2 * row];
    const y = accel[2 * row + 1];
    const f = x * b + y * b1;
    const above = 1 / (1 - f);
    const below = 1 / (1 + f);
    const slope = above - below;
    const bend = above * above + below * below;
    g0 += slope * x;
    g1 += slope * y;
    h00 += bend * x * x;
    h01 += bend * x * y;
    h11 += bend * y * y;
  }
  for (let row = rows.jerkFrom[p]; row < rows.jerkFrom[p + 1]; row++) {
    const x = jerk[3 * row];
    const y = jerk[3 * row + 1];
    const z = jerk[3 * row + 2];
    const f = x * b + y * b1 + z * b2;
    const above = 1 / (root - f);
    const below = 1 / (root + f);
    const slope = above - below;
    const bend = above * above + below * below;
    const cross = -fall * (above * above - below * below);
    g0 += slope * x - fall * (above + below);
    g1 += slope * y;
    g2 += slope * z;
    h00 += bend * (x * x + fall * fall) + 2 * cross * x;
    h01 += bend * x * y + cross * y;
    h02 += bend * x * z + cross * z;
    h11 += bend * y * y;
    h12 += bend * y * z;
    h22 += bend * z * z;
  }
  local[0] = g0;
  local[1] = g1;
  local[2] = g2;
  upper[0] = h00;
  upper[1] = h01;
  upper[2] = h02;
  upper[3] = h11;
  upper[4] = h12;
  upper[5] = h22;
}

/** Brings a point's gradient and Hessian from (b, b', b'') to the three coefficients of its stretch. */
function gather(rows: LimitRows, p: number, { gradient, bands, local, upper }: BarrierRoom): void {
  const i = (p / POINTS) | 0;
  const { basis } = rows;
  const at = p * BASIS;
  for (let j = 0; j < 3; j++) {
    const [v, d, e] = [basis[at + j], basis[at + 3 + j], basis[at + 6 + j]];
    gradient[i + j] += v * local[0] + d * local[1] + e * local[2];
    const hv = upper[0] * v + upper[1] * d + upper[2] * e;
    const hd = upper[1] * v + upper[3] * d + upper[4] * e;
    const he = upper[2] * v + upper[4] * d + upper[5] * e;
    for (let k = j; k < 3; k++) {
      bands[3 * (i + j) + k - j] += hv * basis[at + k] + hd * basis[at + 3 + k] + he * basis[at + 6 + k];
    }
  }
}

/** Largest share of any limit at the points, each by the root that slowing down takes it down with. */
export function worstShare(rows: LimitRows, c: Float64Array, room: BarrierRoom): number {
  const { accel, jerk } = rows;
  let worst = 0;
  for (let p = 0; p < rows.weight.length; p++) {
    writePoint(rows, c, p, room);
    const [b, b1, b2] = room.square;
    worst = Math.max(worst, Math.sqrt(rows.cap[p] * b));
    for (let row = rows.accelFrom[p]; row < rows.accelFrom[p + 1]; row++) {
      worst = Math.max(worst, Math.sqrt(Math.abs(accel[2 * row] * b + accel[2 * row + 1] * b1)));
    }
    for (let row = rows.jerkFrom[p]; row < rows.jerkFrom[p + 1]; row++) {
      const f = jerk[3 * row] * b + jerk[3 * row + 1] * b1 + jerk[3 * row + 2] * b2;
      worst = Math.max(worst, Math.cbrt(Math.sqrt(b) * Math.abs(f)));
    }
  }
  return worst;
}
