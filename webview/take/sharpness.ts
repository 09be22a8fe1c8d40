import { depthOfField } from "../../core/lens/depth-of-field.ts";
import { pupilAt } from "../../core/lens/pupil.ts";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";

/** What is sharp at an instant: distances from the entrance pupil along the view [m]. Written by `sharpAt`. */
export interface Sharpness {
  near: number;
  /** The plane of sharpest focus; Infinity too. */
  focused: number;
  /** `Infinity` when the focus is at the hyperfocal distance or beyond. */
  far: number;
}

export const createSharpness = (): Sharpness => ({ near: NaN, focused: NaN, far: NaN });

/**
 * Depth of field for the documents' circle of confusion, into `out`. Distances from the sensor plane, as focus is told, are
 * `sensorOffset` more. Of a take without a focus, and where the lens forms no picture, all is NaN.
 *
 * @param focal Focal length [m].
 * @param iris  F-number.
 * @param focus From the sensor plane along the view [m]; NaN without a focus.
 */
export function sharpAt(optics: ResolvedOptics, focal: number, iris: number, focus: number, out: Sharpness): Sharpness {
  out.focused = focus - sensorOffset(optics, focal, focus);
  const { near, far } = depthOfField(focal, iris, optics.coc, out.focused);
  out.near = near;
  out.far = far;
  if (Number.isNaN(near)) out.focused = NaN;
  return out;
}

/** How far the entrance pupil is in front of the sensor plane [m]. */
export function sensorOffset(optics: ResolvedOptics, focal: number, focus: number): number {
  return pupilAt(optics, focal, focus) + optics.flange;
}
