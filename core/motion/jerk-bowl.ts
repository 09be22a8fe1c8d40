import { solveBlockChain } from "./block-chain.ts";
import type { Bowl } from "./least-in-polygon.ts";

/** Speed and acceleration at each knot, shape (n,). */
export interface KnotRates {
  readonly speed: Float64Array;
  readonly accel: Float64Array;
}

/**
 * Squared jerk as a quadratic of the rates at knots. Of a piece of length 1 with p = d - v0 - a0/2, v = v1 - v0 - a0,
 * a = a1 - a0 it is 720 p² - 720 p v + 192 v² + 120 p a - 72 v a + 9 a²; a piece of length h has v h and a h² in their
 * place and 1/h⁵ before it. Rates of knot i are measured as x = speed · H, y = accel · H² with H the mean length of its
 * two pieces.
 */
export function bowlOf(times: ArrayLike<number>, values: ArrayLike<number>, rates: KnotRates, i: number): Bowl {
  const { speed, accel } = rates;
  const left = times[i] - times[i - 1];
  const right = times[i + 1] - times[i];
  const mean = (left + right) / 2;
  const l = left / mean;
  const r = right / mean;
  const vL = speed[i - 1] * left;
  const aL = accel[i - 1] * left * left;
  const pL = values[i] - values[i - 1] - vL - aL / 2;
  const vR = speed[i + 1] * right;
  const aR = accel[i + 1] * right * right;
  const pR = values[i + 1] - values[i];
  return {
    xx: 384 / (l * l * l) + 384 / (r * r * r),
    xy: 72 / (r * r) - 72 / (l * l),
    yy: 18 / l + 18 / r,
    x1: (-720 * pL - 384 * (vL + aL) + 72 * aL) / l ** 4 + (-720 * pR + 336 * vR - 48 * aR) / r ** 4,
    y1: (120 * pL + 72 * (vL + aL) - 18 * aL) / l ** 3 + (-120 * pR + 48 * vR - 6 * aR) / r ** 3,
  };
}

/** How a knot may move in a step: freely, along the unit direction x, y only, or not at all. */
export interface Freedom {
  readonly kind: "free" | "line" | "none";
  readonly x: number;
  readonly y: number;
}

/**
 * One Newton step for all knots `free` at once, each within its freedom: the exact least jerk of what may move.
 * Changes `rates`.
 */
export function stepTogether(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  rates: KnotRates,
  free: readonly number[],
  freedoms: readonly Freedom[],
): void {
  const n = free.length;
  const diagonal = new Float64Array(4 * n);
  const cross = new Float64Array(4 * Math.max(0, n - 1));
  const right = new Float64Array(2 * n);
  const meanAt = (i: number): number => (times[i + 1] - times[i - 1]) / 2;
  // All blocks in one unit of time, that of the first knot, so that their weights agree.
  const unit = meanAt(free[0]);
  for (let k = 0; k < n; k++) {
    const i = free[k];
    const mean = meanAt(i);
    const weight = (unit / mean) ** 5;
    const bowl = bowlOf(times, values, rates, i);
    const x = rates.speed[i] * mean;
    const y = rates.accel[i] * mean * mean;
    const gx = weight * (bowl.xx * x + bowl.xy * y + bowl.x1);
    const gy = weight * (bowl.xy * x + bowl.yy * y + bowl.y1);
    const [tx, ty] = basisOf(freedoms[k]);
    // In the basis of the line and its square.
    const along = (a: number, b: number, c: number, d: number): number =>
      weight * (a * (bowl.xx * c + bowl.xy * d) + b * (bowl.xy * c + bowl.yy * d));
    diagonal[4 * k] = along(tx, ty, tx, ty);
    diagonal[4 * k + 1] = diagonal[4 * k + 2] = along(tx, ty, -ty, tx);
    diagonal[4 * k + 3] = along(-ty, tx, -ty, tx);
    right[2 * k] = -(tx * gx + ty * gy);
    right[2 * k + 1] = -(-ty * gx + tx * gy);
    if (k + 1 < n && free[k + 1] === i + 1) writeCross(times, i, unit, freedoms[k], freedoms[k + 1], cross, 4 * k);
  }
  for (let k = 0; k < n; k++) {
    if (freedoms[k].kind === "none") pin(diagonal, cross, right, k, 0);
    if (freedoms[k].kind !== "free") pin(diagonal, cross, right, k, 1);
  }
  solveBlockChain(diagonal, cross, right);
  for (let k = 0; k < n; k++) {
    const i = free[k];
    const mean = meanAt(i);
    const [tx, ty] = basisOf(freedoms[k]);
    rates.speed[i] += (tx * right[2 * k] - ty * right[2 * k + 1]) / mean;
    rates.accel[i] += (ty * right[2 * k] + tx * right[2 * k + 1]) / (mean * mean);
  }
}

function basisOf(freedom: Freedom): readonly [number, number] {
  return freedom.kind === "line" ? [freedom.x, freedom.y] : [1, 0];
}

/** Second derivatives by the rates of knot i + 1 (rows) and i (columns), in their bases. */
function writeCross(
  times: ArrayLike<number>,
  i: number,
  unit: number,
  from: Freedom,
  to: Freedom,
  cross: Float64Array,
  at: number,
): void {
  const h = times[i + 1] - times[i];
  const a = h / ((times[i + 1] - times[i - 1]) / 2);
  const b = h / ((times[i + 2] - times[i]) / 2);
  const weight = (unit / h) ** 5;
  const c = [336 * b * a, 48 * b * a * a, -48 * b * b * a, -6 * b * b * a * a];
  const [fx, fy] = basisOf(from);
  const [tx, ty] = basisOf(to);
  const along = (r: number, s: number, u: number, v: number): number =>
    weight * (r * (c[0] * u + c[1] * v) + s * (c[2] * u + c[3] * v));
  cross[at] = along(tx, ty, fx, fy);
  cross[at + 1] = along(tx, ty, -fy, fx);
  cross[at + 2] = along(-ty, tx, fx, fy);
  cross[at + 3] = along(-ty, tx, -fy, fx);
}

/** Unknown `part` of block `k` stays 0: out of its own equation and all others. */
function pin(diagonal: Float64Array, cross: Float64Array, right: Float64Array, k: number, part: 0 | 1): void {
  diagonal[4 * k + 1] = diagonal[4 * k + 2] = 0;
  diagonal[4 * k + 3 * part] = 1;
  right[2 * k + part] = 0;
  // Columns of the block after, rows of the block before.
  if (4 * k < cross.length) cross[4 * k + part] = cross[4 * k + part + 2] = 0;
  if (0 < k) cross[4 * (k - 1) + 2 * part] = cross[4 * (k - 1) + 2 * part + 1] = 0;
}
