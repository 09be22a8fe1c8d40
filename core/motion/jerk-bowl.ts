import { solveBlockChain } from "./block-chain.ts";
import { CORNERED, PLANES, type Polygons } from "./knot-polygons.ts";

/** Speed and acceleration at each knot, shape (n,). */
export interface KnotRates {
  readonly speed: Float64Array;
  readonly accel: Float64Array;
}

/**
 * Squared jerk as a quadratic of the rates of each knot, ½ (xx x² + 2 xy x y + yy y²) + x1 x + y1 y, convex. Of a piece of
 * length 1 with p = d - v0 - a0/2, v = v1 - v0 - a0, a = a1 - a0 it is 720 p² - 720 p v + 192 v² + 120 p a - 72 v a + 9 a²; a
 * piece of length h has v h and a h² in their place and 1/h⁵ before it. Rates of knot i are measured as x = speed · H,
 * y = accel · H² with H the mean length of its two pieces.
 */
export interface Bowls {
  /** Shape (n,); nothing at the first and the last knot. */
  readonly xx: Float64Array;
  readonly xy: Float64Array;
  readonly yy: Float64Array;
  /** x1 and y1 of the knot last looked at, and the lowest point found for it. */
  readonly slope: Float64Array;
  readonly least: { x: number; y: number };
}

/** The bowls of all inner knots. */
export function writeBowls(times: Float64Array): Bowls {
  const n = times.length;
  const xx = new Float64Array(n);
  const xy = new Float64Array(n);
  const yy = new Float64Array(n);
  for (let i = 1; i + 1 < n; i++) {
    const mean = (times[i + 1] - times[i - 1]) / 2;
    const l = (times[i] - times[i - 1]) / mean;
    const r = (times[i + 1] - times[i]) / mean;
    xx[i] = 384 / (l * l * l) + 384 / (r * r * r);
    xy[i] = 72 / (r * r) - 72 / (l * l);
    yy[i] = 18 / l + 18 / r;
  }
  return { xx, xy, yy, slope: new Float64Array(2), least: { x: 0, y: 0 } };
}

/** x1 and y1 of knot `i`, which hang on its neighbours. */
export function writeSlopes(
  times: Float64Array,
  values: Float64Array,
  { speed, accel }: KnotRates,
  i: number,
  slope: Float64Array,
): void {
  const left = times[i] - times[i - 1];
  const right = times[i + 1] - times[i];
  const mean = (left + right) / 2;
  const vL = speed[i - 1] * left;
  const aL = accel[i - 1] * left * left;
  const pL = values[i] - values[i - 1] - vL - aL / 2;
  const vR = speed[i + 1] * right;
  const aR = accel[i + 1] * right * right;
  const pR = values[i + 1] - values[i];
  const l = mean / left;
  const r = mean / right;
  const l3 = l * l * l;
  const r3 = r * r * r;
  slope[0] = (-720 * pL - 384 * vL - 312 * aL) * l3 * l + (-720 * pR + 336 * vR - 48 * aR) * r3 * r;
  slope[1] = (120 * pL + 72 * vL + 54 * aL) * l3 + (-120 * pR + 48 * vR - 6 * aR) * r3;
}

/**
 * One Newton step for all inner knots at once, each within what its place in its polygon leaves it: the exact least jerk
 * of what may move. Changes `rates`.
 */
export function stepTogether(
  bowls: Bowls,
  times: Float64Array,
  values: Float64Array,
  rates: KnotRates,
  polygons: Polygons,
): void {
  const n = times.length - 2;
  const diagonal = new Float64Array(4 * n);
  const cross = new Float64Array(4 * Math.max(0, n - 1));
  const right = new Float64Array(2 * n);
  // First direction of each knot, unit: along its plane, or x. The other is square to it.
  const basis = writeBasis(polygons, n);
  const { slope } = bowls;
  // All blocks in one unit of time, that of the first knot, so that their weights agree.
  const unit = (times[2] - times[0]) / 2;
  for (let k = 0; k < n; k++) {
    const i = k + 1;
    const mean = (times[i + 1] - times[i - 1]) / 2;
    const weight = (unit / mean) ** 5;
    const x = rates.speed[i] * mean;
    const y = rates.accel[i] * mean * mean;
    writeSlopes(times, values, rates, i, slope);
    const xx = weight * bowls.xx[i];
    const xy = weight * bowls.xy[i];
    const yy = weight * bowls.yy[i];
    const gx = xx * x + xy * y + weight * slope[0];
    const gy = xy * x + yy * y + weight * slope[1];
    const a = basis[2 * k];
    const b = basis[2 * k + 1];
    diagonal[4 * k] = a * a * xx + 2 * a * b * xy + b * b * yy;
    diagonal[4 * k + 1] = diagonal[4 * k + 2] = a * b * (yy - xx) + (a * a - b * b) * xy;
    diagonal[4 * k + 3] = b * b * xx - 2 * a * b * xy + a * a * yy;
    right[2 * k] = -(a * gx + b * gy);
    right[2 * k + 1] = -(a * gy - b * gx);
    if (k + 1 < n) writeCross(times, i, unit, basis, k, cross);
  }
  for (let k = 0; k < n; k++) {
    const bound = polygons.bound[k + 1];
    if (bound === CORNERED) pin(diagonal, cross, right, k, 0);
    if (bound !== 0) pin(diagonal, cross, right, k, 1);
  }
  solveBlockChain(diagonal, cross, right);
  for (let k = 0; k < n; k++) {
    const mean = (times[k + 2] - times[k]) / 2;
    const a = basis[2 * k];
    const b = basis[2 * k + 1];
    rates.speed[k + 1] += (a * right[2 * k] - b * right[2 * k + 1]) / mean;
    rates.accel[k + 1] += (b * right[2 * k] + a * right[2 * k + 1]) / (mean * mean);
  }
}

function writeBasis({ planes, bound }: Polygons, n: number): Float64Array {
  const basis = new Float64Array(2 * n);
  for (let k = 0; k < n; k++) {
    const plane = bound[k + 1];
    if (plane === 0 || plane === CORNERED) {
      basis[2 * k] = 1;
      continue;
    }
    const at = 3 * (PLANES * (k + 1) + plane - 1);
    const size = Math.sqrt(planes[at] * planes[at] + planes[at + 1] * planes[at + 1]);
    basis[2 * k] = -planes[at + 1] / size;
    basis[2 * k + 1] = planes[at] / size;
  }
  return basis;
}

/** Second derivatives by the rates of knot i + 1 (rows) and i (columns), in their bases: block `k` of the chain. */
function writeCross(
  times: Float64Array,
  i: number,
  unit: number,
  basis: Float64Array,
  k: number,
  cross: Float64Array,
): void {
  const h = times[i + 1] - times[i];
  const a = h / ((times[i + 1] - times[i - 1]) / 2);
  const b = h / ((times[i + 2] - times[i]) / 2);
  const weight = (unit / h) ** 5;
  const c0 = weight * 336 * b * a;
  const c1 = weight * 48 * b * a * a;
  const c2 = weight * -48 * b * b * a;
  const c3 = weight * -6 * b * b * a * a;
  const fx = basis[2 * k];
  const fy = basis[2 * k + 1];
  const tx = basis[2 * k + 2];
  const ty = basis[2 * k + 3];
  // Columns along the bases of knot i, then rows along those of knot i + 1.
  const p = c0 * fx + c1 * fy;
  const q = c2 * fx + c3 * fy;
  const r = c1 * fx - c0 * fy;
  const s = c3 * fx - c2 * fy;
  cross[4 * k] = tx * p + ty * q;
  cross[4 * k + 1] = tx * r + ty * s;
  cross[4 * k + 2] = tx * q - ty * p;
  cross[4 * k + 3] = tx * s - ty * r;
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
