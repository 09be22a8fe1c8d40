/** Depth of field about a plane, all distances from the entrance pupil along the view [m]. */
export interface DepthOfField {
  /** H = f² / (N c) + f. */
  readonly hyperfocal: number;
  readonly near: number;
  /** `Infinity` when the focus is at the hyperfocal distance or beyond. */
  readonly far: number;
}

/**
 * Thin-lens depth of field: near = s (H - f) / (H + s - 2f), far = s (H - f) / (H - s).
 *
 * @param focal    Focal length [m].
 * @param aperture F-number.
 * @param coc      Circle of confusion [m].
 * @param distance Focused distance s [m], above the focal length: nearer than that a lens forms no picture, and near and
 *   far are NaN.
 */
export function depthOfField(focal: number, aperture: number, coc: number, distance: number): DepthOfField {
  const hyperfocal = (focal * focal) / (aperture * coc) + focal;
  if (!(focal < distance)) return { hyperfocal, near: NaN, far: NaN };
  if (distance === Infinity) return { hyperfocal, near: hyperfocal - focal, far: Infinity };
  const near = (distance * (hyperfocal - focal)) / (hyperfocal + distance - 2 * focal);
  const far = distance < hyperfocal ? (distance * (hyperfocal - focal)) / (hyperfocal - distance) : Infinity;
  return { hyperfocal, near, far };
}

/**
 * How wide the picture of a point is, thin-lens: f² / (N (s - f)) · |x - s| / x [m]. At the ends of the depth of field it is
 * the circle of confusion.
 *
 * @param focal    Focal length [m].
 * @param aperture F-number.
 * @param distance Focused distance s from the entrance pupil along the view [m]; Infinity too.
 * @param point    Distance x of the point from there [m].
 * @returns NaN where the lens forms no picture: focused within its focal length, or a point not in front of it.
 */
export function blurCircle(focal: number, aperture: number, distance: number, point: number): number {
  if (!(focal < distance && 0 < point)) return NaN;
  const off = distance === Infinity ? 1 / point : Math.abs(point - distance) / (point * (distance - focal));
  return ((focal * focal) / aperture) * off;
}
