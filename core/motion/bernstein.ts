/**
 * Bernstein coefficients over low..high of the polynomial sum c[at + k] s^k: it lies within their least and largest, and
 * where they do not change sign it has no root.
 *
 * @param out Shape (degree + 1,); overwritten.
 */
export function writeBernstein(
  c: ArrayLike<number>,
  at: number,
  degree: number,
  low: number,
  high: number,
  out: Float64Array,
): void {
  for (let k = 0; k <= degree; k++) out[k] = c[at + k];
  if (low !== 0) {
    // Powers of s - low: Horner's scheme over and over.
    for (let r = 0; r < degree; r++) for (let k = degree - 1; r <= k; k--) out[k] += low * out[k + 1];
  }
  if (low !== 0 || high !== 1) {
    let scale = 1;
    for (let k = 1; k <= degree; k++) out[k] *= scale *= high - low;
  }
  // Of x in 0..1, b_j = sum C(j, k) / C(degree, k) c_k: sums over sums, after Pascal.
  let binomial = 1;
  for (let k = 1; k <= degree; k++) out[k] /= binomial *= (degree - k + 1) / k;
  for (let r = 1; r <= degree; r++) for (let j = degree; r <= j; j--) out[j] += out[j - 1];
}

/** Makes the coefficients those of the derivative by x in 0..1: one fewer. Returns the new degree; a constant becomes 0. */
export function deriveBernstein(b: Float64Array, degree: number): number {
  if (degree === 0) {
    b[0] = 0;
    return 0;
  }
  for (let j = 0; j < degree; j++) b[j] = degree * (b[j + 1] - b[j]);
  return degree - 1;
}
