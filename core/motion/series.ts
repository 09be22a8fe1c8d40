/*
 * Taylor series in time, for derivatives that are exact: f(t0 + dt) = c0 + c1 dt + c2 dt² + … A series is ROOM numbers in
 * a flat array from a given place on; derivative k is k! times coefficient k. Each function gives one coefficient from
 * those of lower order, so that unknowns can be found order by order. Nothing allocates.
 */

/** Coefficients that a series has room for: orders 0 to 4. */
export const ROOM = 5;

/** Derivative k is FACTORIAL[k] times coefficient k. */
export const FACTORIAL = [1, 1, 2, 6, 24] as const;

/** Coefficient `k` of a · b. */
export function productTerm(a: Float64Array, i: number, b: Float64Array, j: number, k: number): number {
  let sum = 0;
  for (let n = 0; n <= k; n++) sum += a[i + n] * b[j + k - n];
  return sum;
}

/**
 * Coefficient `k` of sin and cos of the series `q`, lower ones known: s' = c q', c' = -s q'.
 * Writes into `sin[at + k]` and `cos[at + k]`.
 */
export function writeTurnTerm(
  q: Float64Array,
  i: number,
  sin: Float64Array,
  cos: Float64Array,
  at: number,
  k: number,
): void {
  if (k === 0) {
    sin[at] = Math.sin(q[i]);
    cos[at] = Math.cos(q[i]);
    return;
  }
  let s = 0;
  let c = 0;
  for (let n = 1; n <= k; n++) {
    const rate = n * q[i + n];
    s += rate * cos[at + k - n];
    c -= rate * sin[at + k - n];
  }
  sin[at + k] = s / k;
  cos[at + k] = c / k;
}

/** Coefficient `k` of the root of the series `a`, lower ones of `root` known: root² = a. 0 where the root is 0. */
export function rootTerm(a: Float64Array, i: number, root: Float64Array, at: number, k: number): number {
  if (k === 0) return Math.sqrt(Math.max(0, a[i]));
  let sum = a[i + k];
  for (let n = 1; n < k; n++) sum -= root[at + n] * root[at + k - n];
  return 0 < root[at] ? sum / (2 * root[at]) : 0;
}

/** Coefficient `k` of a / b, lower ones of the quotient known. 0 where b is 0. */
export function quotientTerm(
  a: Float64Array,
  i: number,
  b: Float64Array,
  j: number,
  quotient: Float64Array,
  at: number,
  k: number,
): number {
  let sum = a[i + k];
  for (let n = 0; n < k; n++) sum -= quotient[at + n] * b[j + k - n];
  return b[j] !== 0 ? sum / b[j] : 0;
}
