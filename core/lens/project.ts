import { growsUpTo, undistort } from "./distortion.ts";
import type { ResolvedOptics } from "./resolved-optics.ts";

/**
 * Framing of a point of the camera frame (origin at the entrance pupil, x along the view, y left, z up).
 * x' = -Y/X, y' = -Z/X; distortion takes them to xd, yd;
 * across = 0.5 + focal · xd / (squeeze · w) + cx, down = 0.5 + focal · yd / h + cy.
 *
 * @param focal Focal length [m].
 * @param x, y, z The point; any one length unit, only its direction counts.
 * @param out   Framing [across, down] in shares of the captured picture, shape (2,). Outside 0..1 is outside the picture.
 * @returns False, and NaN in `out`, for a point behind the camera or beyond what the distortion is made for.
 */
export function project(
  optics: ResolvedOptics,
  focal: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array | number[],
): boolean {
  let across = -y / x;
  let down = -z / x;
  const d = optics.distortion;
  const u = across * across + down * down;
  if (!(0 < x) || !Number.isFinite(u) || (d !== undefined && !growsUpTo(d, u))) {
    out[0] = NaN;
    out[1] = NaN;
    return false;
  }
  if (d !== undefined) {
    const radial = 1 + u * (d.k1 + u * (d.k2 + u * d.k3));
    const mixed = 2 * across * down;
    const xd = across * radial + d.p1 * mixed + d.p2 * (u + 2 * across * across);
    down = down * radial + d.p1 * (u + 2 * down * down) + d.p2 * mixed;
    across = xd;
  }
  out[0] = 0.5 + (focal * across) / (optics.squeeze * optics.sensor[0]) + optics.centre[0];
  out[1] = 0.5 + (focal * down) / optics.sensor[1] + optics.centre[1];
  return true;
}

/**
 * Direction in the camera frame that is pictured at a framing: the inverse of `project`.
 *
 * @param out (1, Y/X, Z/X), shape (3,).
 * @returns False, and NaN in `out`, when the lens forms no picture there.
 */
export function unproject(
  optics: ResolvedOptics,
  focal: number,
  across: number,
  down: number,
  out: Float64Array | number[],
): boolean {
  let x = ((across - 0.5 - optics.centre[0]) * optics.squeeze * optics.sensor[0]) / focal;
  let y = ((down - 0.5 - optics.centre[1]) * optics.sensor[1]) / focal;
  let found = Number.isFinite(x) && Number.isFinite(y);
  if (found && optics.distortion) {
    const plane = new Float64Array(2);
    found = undistort(optics.distortion, x, y, plane, new Float64Array(5));
    x = plane[0];
    y = plane[1];
  }
  out[0] = found ? 1 : NaN;
  out[1] = found ? -x : NaN;
  out[2] = found ? -y : NaN;
  return found;
}

/** Framing of the delivered crop to framing of the captured picture; the crop [px] is centred in `resolution`. */
export function capturedFraming(
  optics: ResolvedOptics,
  deliver: readonly [number, number],
  delivered: readonly [number, number],
): [number, number] {
  return [
    0.5 + ((delivered[0] - 0.5) * deliver[0]) / optics.resolution[0],
    0.5 + ((delivered[1] - 0.5) * deliver[1]) / optics.resolution[1],
  ];
}

/** Framing of the captured picture to framing of the delivered crop. Outside 0..1 is cropped away. */
export function deliveredFraming(
  optics: ResolvedOptics,
  deliver: readonly [number, number],
  captured: readonly [number, number],
): [number, number] {
  return [
    0.5 + ((captured[0] - 0.5) * optics.resolution[0]) / deliver[0],
    0.5 + ((captured[1] - 0.5) * optics.resolution[1]) / deliver[1],
  ];
}
