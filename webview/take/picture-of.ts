import { project } from "../../core/lens/project.ts";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";
import type { Moment } from "./moment.ts";

/**
 * Where a place is in the captured picture at an instant.
 *
 * @param place Of the set [m].
 * @param out   Shares from the left and the top; NaN for a place that is not in front of the camera.
 * @returns Whether there is a picture of it.
 */
export function pictureOf(
  optics: ResolvedOptics,
  { focal, pupil, pose: { mountRotation: r } }: Pick<Moment, "focal" | "pupil" | "pose">,
  place: ArrayLike<number>,
  out: number[],
): boolean {
  const x = place[0] - pupil[0];
  const y = place[1] - pupil[1];
  const z = place[2] - pupil[2];
  const ahead = r[0] * x + r[3] * y + r[6] * z;
  return project(optics, focal, ahead, r[1] * x + r[4] * y + r[7] * z, r[2] * x + r[5] * y + r[8] * z, out);
}
