/**
 * Solves a · x = b by elimination with row pivoting, in place. Allocates nothing.
 *
 * @param a Shape (n, n), row-major with row stride `n`; overwritten.
 * @param b Shape (n,); holds x on return.
 * @returns Smallest pivot over the largest entry of `a`: a rough measure of how far from singular `a` is. 0 when it is
 *   singular to rounding; `b` is then without meaning.
 */
export function solveDense(a: Float64Array, b: Float64Array, n: number): number {
  let largest = 0;
  for (let i = 0; i < n * n; i++) largest = Math.max(largest, Math.abs(a[i]));
  if (!(0 < largest && largest < Infinity)) return 0;
  let smallest = Infinity;
  for (let col = 0; col < n; col++) {
    let pivot = col;
    for (let row = col + 1; row < n; row++) {
      if (Math.abs(a[pivot * n + col]) < Math.abs(a[row * n + col])) pivot = row;
    }
    const size = Math.abs(a[pivot * n + col]);
    smallest = Math.min(smallest, size / largest);
    if (smallest < 1e-300) return 0;
    if (pivot !== col) swapRows(a, b, n, pivot, col);
    for (let row = col + 1; row < n; row++) {
      const share = a[row * n + col] / a[col * n + col];
      if (share === 0) continue;
      for (let k = col + 1; k < n; k++) a[row * n + k] -= share * a[col * n + k];
      b[row] -= share * b[col];
    }
  }
  for (let row = n - 1; 0 <= row; row--) {
    let sum = b[row];
    for (let k = row + 1; k < n; k++) sum -= a[row * n + k] * b[k];
    b[row] = sum / a[row * n + row];
  }
  return smallest;
}

function swapRows(a: Float64Array, b: Float64Array, n: number, i: number, j: number): void {
  for (let k = 0; k < n; k++) {
    const held = a[i * n + k];
    a[i * n + k] = a[j * n + k];
    a[j * n + k] = held;
  }
  const held = b[i];
  b[i] = b[j];
  b[j] = held;
}
