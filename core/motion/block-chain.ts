/**
 * Solves a symmetric chain of 2 x 2 blocks, D_i x_i + C_{i-1} x_{i-1} + C_iᵀ x_{i+1} = b_i, by elimination from the left.
 *
 * @param diagonal Shape (n, 4), row-major; overwritten.
 * @param cross    Shape (n - 1, 4): C_i, rows of block i + 1, columns of block i.
 * @param right    Shape (n, 2); the solution on return.
 */
export function solveBlockChain(diagonal: Float64Array, cross: Float64Array, right: Float64Array): void {
  const n = right.length / 2;
  for (let i = 1; i < n; i++) {
    const d = 4 * (i - 1);
    const [a, b, c, e] = [diagonal[d], diagonal[d + 1], diagonal[d + 2], diagonal[d + 3]];
    const det = a * e - b * c;
    const [p, q, r, s] = [cross[d], cross[d + 1], cross[d + 2], cross[d + 3]];
    // F = C D⁻¹, then D_i -= F Cᵀ and b_i -= F b_{i-1}.
    const f00 = (p * e - q * c) / det;
    const f01 = (q * a - p * b) / det;
    const f10 = (r * e - s * c) / det;
    const f11 = (s * a - r * b) / det;
    diagonal[d + 4] -= f00 * p + f01 * q;
    diagonal[d + 5] -= f00 * r + f01 * s;
    diagonal[d + 6] -= f10 * p + f11 * q;
    diagonal[d + 7] -= f10 * r + f11 * s;
    right[2 * i] -= f00 * right[2 * i - 2] + f01 * right[2 * i - 1];
    right[2 * i + 1] -= f10 * right[2 * i - 2] + f11 * right[2 * i - 1];
  }
  for (let i = n - 1; 0 <= i; i--) {
    const d = 4 * i;
    let x = right[2 * i];
    let y = right[2 * i + 1];
    if (i + 1 < n) {
      x -= cross[d] * right[2 * i + 2] + cross[d + 2] * right[2 * i + 3];
      y -= cross[d + 1] * right[2 * i + 2] + cross[d + 3] * right[2 * i + 3];
    }
    const det = diagonal[d] * diagonal[d + 3] - diagonal[d + 1] * diagonal[d + 2];
    right[2 * i] = (diagonal[d + 3] * x - diagonal[d + 1] * y) / det;
    right[2 * i + 1] = (diagonal[d] * y - diagonal[d + 2] * x) / det;
  }
}
