import { distort, growsUpTo } from "./distortion.ts";
import { unproject } from "./project.ts";
import type { ResolvedOptics } from "./resolved-optics.ts";

const STEPS = 24;

/**
 * Whether the distortion is one-to-one over the captured picture, so that each framing is one direction: over a grid of
 * the picture, edges and corners included, every point has a direction, and between the middle and each point of the
 * edge the picture keeps its sense (positive determinant) and its radius grows.
 *
 * @param focal Focal length [m]; the shortest asks most of the lens.
 */
export function distortionIsMonotone(optics: ResolvedOptics, focal: number): boolean {
  const d = optics.distortion;
  if (!d) return true;
  const at = new Float64Array(5);
  const direction = new Float64Array(3);
  for (let i = 0; i <= STEPS; i++) {
    for (let j = 0; j <= STEPS; j++) {
      if (!unproject(optics, focal, i / STEPS, j / STEPS, direction)) return false;
      const [x, y] = [-direction[1], -direction[2]];
      if (!growsUpTo(d, x * x + y * y)) return false;
      // The grid's own cells are joined by rays from the axis: tangential terms can fold where the radial ones do not.
      for (let k = 1; k <= STEPS; k++) {
        distort(d, (x * k) / STEPS, (y * k) / STEPS, at);
        if (!(0 < at[2] * at[4] - at[3] * at[3] && 0 < at[2] + at[4])) return false;
      }
    }
  }
  return true;
}
