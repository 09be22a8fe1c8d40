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
