import type { Distortion } from "./resolved-optics.ts";

/**
 * Brown-Conrady, OpenCV's order and signs, on normalised coordinates x to the right and y down:
 * xd = x R + 2 p1 x y + p2 (r² + 2x²), yd = y R + p1 (r² + 2y²) + 2 p2 x y, R = 1 + k1 r² + k2 r⁴ + k3 r⁶.
 * Writes xd, yd and the derivatives dxd/dx, dxd/dy (= dyd/dx), dyd/dy into `out`, shape (5,).
 */
export function distort(d: Distortion, x: number, y: number, out: Float64Array): void {
  const u = x * x + y * y;
  const radial = 1 + u * (d.k1 + u * (d.k2 + u * d.k3));
  const slope = 2 * (d.k1 + u * (2 * d.k2 + u * 3 * d.k3));
  out[0] = x * radial + 2 * d.p1 * x * y + d.p2 * (u + 2 * x * x);
  out[1] = y * radial + d.p1 * (u + 2 * y * y) + 2 * d.p2 * x * y;
  out[2] = radial + x * x * slope + 2 * d.p1 * y + 6 * d.p2 * x;
  out[3] = x * y * slope + 2 * d.p1 * x + 2 * d.p2 * y;
  out[4] = radial + y * y * slope + 6 * d.p1 * y + 2 * d.p2 * x;
}

/** True when the radial part still grows everywhere up to the squared radius `u`: beyond, the picture would fold back. */
export function growsUpTo(d: Distortion, u: number): boolean {
  // d(r R)/dr = 1 + 3 k1 u + 5 k2 u² + 7 k3 u³ must be positive on [0, u]; its extremes are at roots of a quadratic.
  const slope = (v: number): number => 1 + v * (3 * d.k1 + v * (5 * d.k2 + v * 7 * d.k3));
  if (!(0 < slope(u))) return false;
  const [a, b, c] = [21 * d.k3, 10 * d.k2, 3 * d.k1];
  if (a === 0) return b === 0 || !inside(-c / b, u) || 0 < slope(-c / b);
  const disc = b * b - 4 * a * c;
  if (disc <= 0) return true;
  const w = -0.5 * (b + (b < 0 ? -1 : 1) * Math.sqrt(disc));
  const [v1, v2] = [w / a, w === 0 ? 0 : c / w];
  return (!inside(v1, u) || 0 < slope(v1)) && (!inside(v2, u) || 0 < slope(v2));
}

/**
 * Inverse by Newton's method from the point itself, shortened where a full step would leave the part that does not fold
 * or would not come nearer.
 *
 * @param scratch Shape (5,); on success `scratch[2..5)` holds the derivatives of `distort` there.
 * @param out     Undistorted x, y, shape (2,).
 * @returns False when no such point is found: the lens forms no picture there.
 */
export function undistort(d: Distortion, xd: number, yd: number, out: Float64Array, scratch: Float64Array): boolean {
  let x = xd;
  let y = yd;
  // Start inside the part that does not fold.
  for (let cut = 0; cut < 60 && !growsUpTo(d, x * x + y * y); cut++) {
    x *= 0.8;
    y *= 0.8;
  }
  distort(d, x, y, scratch);
  let miss = Math.hypot(scratch[0] - xd, scratch[1] - yd);
  const enough = 4e-16 * Math.max(1, Math.hypot(xd, yd));
  for (let round = 0; round < 60 && enough < miss; round++) {
    const ex = scratch[0] - xd;
    const ey = scratch[1] - yd;
    const [a, b, c] = [scratch[2], scratch[3], scratch[4]];
    const det = a * c - b * b;
    if (!(0 < det)) break;
    const dx = (c * ex - b * ey) / det;
    const dy = (a * ey - b * ex) / det;
    let share = 1;
    let better = false;
    for (let cut = 0; cut < 30 && !better; cut++, share /= 2) {
      const nx = x - share * dx;
      const ny = y - share * dy;
      if (!growsUpTo(d, nx * nx + ny * ny)) continue;
      distort(d, nx, ny, scratch);
      const next = Math.hypot(scratch[0] - xd, scratch[1] - yd);
      if (!(next < miss)) continue;
      [x, y, miss, better] = [nx, ny, next, true];
    }
    if (!better) break;
  }
  distort(d, x, y, scratch);
  out[0] = x;
  out[1] = y;
  return miss <= 1e-12 * Math.max(1, Math.hypot(xd, yd));
}

function inside(v: number, u: number): boolean {
  return 0 < v && v < u;
}
