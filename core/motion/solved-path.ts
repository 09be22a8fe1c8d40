import { writeSeries, type Piecewise } from "./piecewise.ts";
import { FACTORIAL, ROOM } from "./series.ts";
import type { Order } from "./trajectory.ts";
import { PATH_FLOOR, PATH_SHARE } from "./tolerances.ts";

/**
 * Polynomials of degree 9 that follow solved axes closely: they meet value and four derivatives at both ends of each
 * piece. They start Newton's method, so that an instant is solved without its neighbours, and lead to extremes.
 */
export interface SolvedPath {
  /** One curve an unknown, all with the same times. */
  readonly curves: readonly Piecewise[];
  /** Taylor coefficients at both ends of each piece, an array an unknown, shape (pieces, 2, ROOM). */
  readonly ends: readonly Float64Array[];
  /** Ends of the pieces [s]. */
  readonly times: Float64Array;
  /** Shape (pieces,): 0 exact solutions, 1 the aim has none there, 2 too steep to follow (the pole). */
  readonly state: Uint8Array;
}

export const FOLLOWED = 0;
export const WITHOUT_SOLUTION = 1;
export const TOO_STEEP = 2;

/** Coefficients of a piece of degree 9. */
export const WIDTH = 10;

/**
 * The polynomial in s = (t - start) / length of derivative `order` of a piece, from five Taylor coefficients in t at both
 * ends. It meets the derivatives `order` to 4 at both ends; where it would not be drowned in rounding it is the
 * derivative of the one polynomial of degree 9, which is closer.
 *
 * @param left, right Coefficients at `left[l ..]` and `right[r ..]`.
 * @returns Coefficients, lowest first.
 */
export function piecePolynomial(
  left: Float64Array,
  l: number,
  right: Float64Array,
  r: number,
  length: number,
  order: number,
): number[] {
  const size = Math.max(Math.abs(left[l + order]), Math.abs(right[r + order]));
  const rounding = (64 * 2.2e-16 * Math.max(1, Math.abs(left[l]))) / length ** order;
  if (order === 0 || rounding < PATH_SHARE * size) {
    let polynomial = hermite(left, l, right, r, length, 0);
    for (let k = 0; k < order; k++) polynomial = polynomial.slice(1).map((c, n) => (c * (n + 1)) / length);
    return polynomial;
  }
  return hermite(left, l, right, r, length, order);
}

/** Meets derivatives `order` to 4 at both ends, of degree 2 (5 - order) - 1. */
function hermite(
  left: Float64Array,
  l: number,
  right: Float64Array,
  r: number,
  length: number,
  order: number,
): number[] {
  const m = ROOM - order;
  const polynomial = new Array<number>(2 * m).fill(0);
  // Lower half: the left end's own coefficients. Upper half: s^m (b0 + b1 (s - 1) + …) meets what is left at s = 1.
  const defect: number[] = [];
  for (let k = 0, scale = 1; k < m; k++, scale *= length) {
    const falls = BINOMIAL[k + order][order] * FACTORIAL[order] * scale;
    polynomial[k] = left[l + order + k] * falls;
    defect.push(right[r + order + k] * falls);
  }
  for (let k = 0; k < m; k++) for (let n = k; n < m; n++) defect[k] -= BINOMIAL[n][k] * polynomial[n];
  // (1 + x)^m · b(x) = defect(x) with x = s - 1, so b = defect · (1 + x)^-m, of coefficients (-1)^k C(m - 1 + k, k).
  const b = new Array<number>(m).fill(0);
  for (let k = 0; k < m; k++) {
    for (let n = 0; n <= k; n++) {
      b[k] += defect[n] * BINOMIAL[m - 1 + k - n][k - n] * ((k - n) % 2 === 0 ? 1 : -1);
    }
  }
  // Back from powers of s - 1 to powers of s.
  for (let k = 0; k < m; k++) {
    for (let n = k; n < m; n++) polynomial[m + k] += b[n] * BINOMIAL[n][k] * ((n - k) % 2 === 0 ? 1 : -1);
  }
  return polynomial;
}

/**
 * A wiggle this small in the value itself [rad] is rounding, whatever it makes of the jerk over a short piece: hard by the
 * pole there is nothing else to see. Over a piece of half a second it does not count.
 */
export const WIGGLE = 1e-12;

/** Of what a followed path may be off within a piece: it is compared with the solution at two instants only. */
const CAUTION = 10;

/** How far derivative `order` may lie off a followed path whose piece is `length` [s] long, where it is at most `size`. */
export function followedMargin(order: Order, size: number, length: number): number {
  if (order === 0) return CAUTION * PATH_FLOOR[0];
  return CAUTION * (PATH_SHARE * size + PATH_FLOOR[order] + (FACTORIAL[order] * WIGGLE) / length ** order);
}

/** Writes value and derivatives (Taylor coefficients, orders 0 to `order`) of one curve of a path. */
export function writePath(
  path: SolvedPath,
  curve: number,
  piece: number,
  t: number,
  order: number,
  out: Float64Array,
  at: number,
): void {
  writeSeries(path.curves[curve], piece, t, order, out, at);
}

const BINOMIAL: readonly (readonly number[])[] = Array.from({ length: 2 * ROOM }, (_, n) => {
  const row = [1];
  for (let k = 1; k <= n; k++) row.push((row[k - 1] * (n - k + 1)) / k);
  return row;
});
