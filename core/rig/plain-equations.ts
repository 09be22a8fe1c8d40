/*
 * Equations in one unknown that a chain's geometry comes down to. Solutions go into `out`, their count is returned;
 * nothing is allocated.
 */

/** How far outside its domain a cosine may be rounded: solutions that meet are found as one. */
const ROUNDED = 1e-9;

/**
 * Angles where a + b cos x + c sin x = 0.
 *
 * @param nearest Where there is none, gives the one angle that comes nearest to it.
 * @param out     Receives up to two angles [rad].
 */
export function solveHarmonic(a: number, b: number, c: number, nearest: boolean, out: Float64Array): number {
  const size = Math.sqrt(b * b + c * c);
  if (!(1e-12 < size)) return 0;
  const share = -a / size;
  const middle = Math.atan2(c, b);
  if (!(Math.abs(share) < 1 + ROUNDED)) {
    if (!nearest) return 0;
    out[0] = 0 < share ? middle : middle + Math.PI;
    return 1;
  }
  const aside = Math.acos(Math.min(1, Math.max(-1, share)));
  out[0] = middle + aside;
  out[1] = middle - aside;
  return 2;
}

/** Numbers where a + b x + c x² = 0, as `solveHarmonic`; without a solution the vertex comes nearest. */
export function solveQuadratic(a: number, b: number, c: number, nearest: boolean, out: Float64Array): number {
  if (Math.abs(c) < 1e-14) {
    if (Math.abs(b) < 1e-14) return 0;
    out[0] = -a / b;
    return 1;
  }
  const under = b * b - 4 * a * c;
  if (under < 0 && !nearest && under < -ROUNDED * (b * b + Math.abs(a * c))) return 0;
  const root = Math.sqrt(Math.max(0, under));
  out[0] = (-b + root) / (2 * c);
  out[1] = (-b - root) / (2 * c);
  return under <= 0 ? 1 : 2;
}
