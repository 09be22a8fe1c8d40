import { unproject } from "./project.ts";
import type { ResolvedOptics } from "./resolved-optics.ts";

/**
 * Angles that the captured picture spans through its centre, distortion, squeeze and offset counted [rad]: between the
 * middles of its left and right edges, and of its top and bottom edges.
 *
 * @param focal Focal length [m].
 * @returns NaN for an angle whose edge the lens forms no picture of.
 */
export function fieldOfView(optics: ResolvedOptics, focal: number): { readonly across: number; readonly down: number } {
  return {
    across: framingAngle(optics, focal, [0, 0.5], [1, 0.5]),
    down: framingAngle(optics, focal, [0.5, 0], [0.5, 1]),
  };
}

/** Angle between the directions of two framings [rad], 0 to pi; NaN where the lens forms no picture of one. */
export function framingAngle(
  optics: ResolvedOptics,
  focal: number,
  from: readonly [number, number],
  to: readonly [number, number],
): number {
  const a = [0, 0, 0];
  const b = [0, 0, 0];
  if (!unproject(optics, focal, from[0], from[1], a) || !unproject(optics, focal, to[0], to[1], b)) return NaN;
  const [cx, cy, cz] = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  return Math.atan2(Math.hypot(cx, cy, cz), a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
}
