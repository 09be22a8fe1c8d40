/**
 * Solves a · x = b for a symmetric positive definite matrix of bandwidth 2 by Cholesky's method, in place. Allocates
 * nothing.
 *
 * @param a Shape (n, 3): row i holds a[i][i], a[i][i + 1], a[i][i + 2]; overwritten.
 * @param b Shape (n,); holds x on return.
 * @returns False when `a` is not positive definite to rounding; `b` is then without meaning.
 */
export function solveBanded(a: Float64Array, b: Float64Array, n: number): boolean {
  // a = L D Lᵀ with L of unit diagonal; row i of L's two lower entries is stored where row i - 1 and i - 2 reach it.
  for (let i = 0; i < n; i++) {
    const pivot = a[3 * i];
    if (!(0 < pivot && pivot < Infinity)) return false;
    const one = a[3 * i + 1] / pivot;
    const two = a[3 * i + 2] / pivot;
    if (i + 1 < n) {
      a[3 * i + 3] -= one * a[3 * i + 1];
      a[3 * i + 4] -= one * a[3 * i + 2];
      b[i + 1] -= one * b[i];
    }
    if (i + 2 < n) {
      a[3 * i + 6] -= two * a[3 * i + 2];
      b[i + 2] -= two * b[i];
    }
    a[3 * i + 1] = one;
    a[3 * i + 2] = two;
    b[i] /= pivot;
  }
  for (let i = n - 1; 0 <= i; i--) {
    if (i + 1 < n) b[i] -= a[3 * i + 1] * b[i + 1];
    if (i + 2 < n) b[i] -= a[3 * i + 2] * b[i + 2];
  }
  return true;
}
