import { writeSeries, type Piecewise } from "./piecewise.ts";
import { ROOM } from "./series.ts";

/**
 * Polynomials of degree 9 that follow solved axes closely: they meet value and four derivatives at both ends of each
 * piece. They start Newton's method, so that an instant is solved without its neighbours, and lead to extremes.
 */
export interface SolvedPath {
  /** One curve an unknown, all with the same times. */
  readonly curves: readonly Piecewise[];
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
 * The polynomial of degree 9 in s = (t - start) / length from five Taylor coefficients in t at both ends.
 * Writes WIDTH coefficients into `out[at ..]`.
 */
export function writeNonic(
  left: Float64Array,
  l: number,
  right: Float64Array,
  r: number,
  length: number,
  out: Float64Array,
  at: number,
): void {
  // Lower half: the left end's own coefficients. Upper half: s^5 (b0 + b1 (s-1) + … ) meets what is left at s = 1.
  let scale = 1;
  for (let k = 0; k < ROOM; k++, scale *= length) out[at + k] = left[l + k] * scale;
  // Defects at s = 1: Taylor coefficients of the right end less those of the lower half.
  const d = [0, 0, 0, 0, 0];
  scale = 1;
  for (let k = 0; k < ROOM; k++, scale *= length) {
    let sum = 0;
    for (let n = k; n < ROOM; n++) sum += BINOMIAL[n][k] * out[at + n];
    d[k] = right[r + k] * scale - sum;
  }
  // (1 + x)^5 · b(x) = d(x) with x = s - 1, so b = d · (1 + x)^-5.
  const b = [0, 0, 0, 0, 0];
  for (let k = 0; k < ROOM; k++) for (let n = 0; n <= k; n++) b[k] += d[n] * INVERSE_FIFTH[k - n];
  // Back from powers of s - 1 to powers of s.
  for (let k = 0; k < ROOM; k++) {
    let sum = 0;
    for (let n = k; n < ROOM; n++) sum += b[n] * BINOMIAL[n][k] * ((n - k) % 2 === 0 ? 1 : -1);
    out[at + ROOM + k] = sum;
  }
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

const BINOMIAL = [[1], [1, 1], [1, 2, 1], [1, 3, 3, 1], [1, 4, 6, 4, 1]] as const as readonly (readonly number[])[];

/** Taylor coefficients of (1 + x)^-5. */
const INVERSE_FIFTH = [1, -5, 15, -35, 70] as const;
