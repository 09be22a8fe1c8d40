import { solveDense } from "../base/linear.ts";

/** Unknowns at most. */
export const MOST_UNKNOWNS = 6;

/** Numbers of scratch room that a step takes. */
export const STEP_SCRATCH = MOST_UNKNOWNS * MOST_UNKNOWNS + 2 * MOST_UNKNOWNS;

/** Pivots smaller than this share of the largest entry make a system singular. */
const SINGULAR = 1e-14;
/** Damping of singular and of overdetermined systems, as a share of the trace. */
const DAMPING = 1e-12;

/**
 * Solves J x = r for up to six unknowns: exactly where J is square and regular, else in the least-squares sense with
 * nearly singular directions damped, so that the result is finite for finite input. Allocates nothing.
 *
 * @param jacobian Shape (rows, columns), row-major, rows >= columns.
 * @param scratch  Shape (STEP_SCRATCH,).
 * @param out      Shape (columns,).
 */
export function denseStep(
  jacobian: Float64Array,
  residual: Float64Array,
  rows: number,
  columns: number,
  scratch: Float64Array,
  out: Float64Array,
): void {
  if (rows === columns) {
    for (let i = 0; i < rows * columns; i++) scratch[i] = jacobian[i];
    for (let i = 0; i < rows; i++) out[i] = residual[i];
    if (SINGULAR < solveDense(scratch, out, columns)) return;
  }
  const right = MOST_UNKNOWNS * MOST_UNKNOWNS;
  const left = right + MOST_UNKNOWNS;
  for (let a = 0; a < columns; a++) out[a] = 0;
  if (!factorNormal(jacobian, rows, columns, scratch)) return;
  // The normal equations square the condition: what the first solution leaves is solved once more.
  for (let pass = 0; pass < 2; pass++) {
    for (let row = 0; row < rows; row++) {
      let miss = residual[row];
      for (let c = 0; c < columns; c++) miss -= jacobian[row * columns + c] * out[c];
      scratch[left + row] = miss;
    }
    for (let a = 0; a < columns; a++) {
      let sum = 0;
      for (let row = 0; row < rows; row++) sum += jacobian[row * columns + a] * scratch[left + row];
      scratch[right + a] = sum;
    }
    solveFactored(scratch, columns, right);
    for (let a = 0; a < columns; a++) out[a] += scratch[right + a];
  }
}

/** Lower Cholesky factor of Jᵀ J + damping · trace · I into `l`, row stride `n`; false where J is 0. */
function factorNormal(j: Float64Array, rows: number, n: number, l: Float64Array): boolean {
  let trace = 0;
  for (let i = 0; i < rows * n; i++) trace += j[i] * j[i];
  if (!(0 < trace && trace < Infinity)) return false;
  const damping = DAMPING * trace;
  for (let a = 0; a < n; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = a === b ? damping : 0;
      for (let row = 0; row < rows; row++) sum += j[row * n + a] * j[row * n + b];
      for (let k = 0; k < b; k++) sum -= l[a * n + k] * l[b * n + k];
      l[a * n + b] = a === b ? Math.sqrt(Math.max(sum, damping * 1e-3)) : sum / l[b * n + b];
    }
  }
  return true;
}

/** Solves L Lᵀ x = b in place; b stands in the same array from `at` on. */
function solveFactored(l: Float64Array, n: number, at: number): void {
  for (let a = 0; a < n; a++) {
    let sum = l[at + a];
    for (let k = 0; k < a; k++) sum -= l[a * n + k] * l[at + k];
    l[at + a] = sum / l[a * n + a];
  }
  for (let a = n - 1; 0 <= a; a--) {
    let sum = l[at + a];
    for (let k = a + 1; k < n; k++) sum -= l[k * n + a] * l[at + k];
    l[at + a] = sum / l[a * n + a];
  }
}

/**
 * Sign of the determinant of a square Jacobian; 0 where it is singular or not square.
 *
 * @param scratch Shape (STEP_SCRATCH,).
 */
export function determinantSign(jacobian: Float64Array, rows: number, n: number, scratch: Float64Array): number {
  const j = jacobian;
  if (n === 1) return Math.sign(j[0]);
  if (rows !== n) return 0;
  if (n === 2) return Math.sign(j[0] * j[3] - j[1] * j[2]);
  if (n === 3) {
    return Math.sign(
      j[0] * (j[4] * j[8] - j[5] * j[7]) + j[1] * (j[5] * j[6] - j[3] * j[8]) + j[2] * (j[3] * j[7] - j[4] * j[6]),
    );
  }
  for (let i = 0; i < n * n; i++) scratch[i] = j[i];
  let sign = 1;
  for (let col = 0; col < n; col++) {
    let pivot = col;
    for (let row = col + 1; row < n; row++) {
      if (Math.abs(scratch[pivot * n + col]) < Math.abs(scratch[row * n + col])) pivot = row;
    }
    const size = scratch[pivot * n + col];
    if (size === 0 || !Number.isFinite(size)) return 0;
    if (pivot !== col) {
      sign = -sign;
      for (let k = col; k < n; k++) {
        const held = scratch[pivot * n + k];
        scratch[pivot * n + k] = scratch[col * n + k];
        scratch[col * n + k] = held;
      }
    }
    sign *= Math.sign(size);
    for (let row = col + 1; row < n; row++) {
      const share = scratch[row * n + col] / size;
      for (let k = col; k < n; k++) scratch[row * n + k] -= share * scratch[col * n + k];
    }
  }
  return sign;
}
