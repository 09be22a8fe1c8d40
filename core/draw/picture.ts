import type { Task } from "../base/task.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { drawLensPicture } from "./lens-picture.ts";
import { drawOutsidePicture } from "./outside-picture.ts";
import { shotAt } from "./shot.ts";

export const PICTURE_VIEWS = ["lens", "top", "side", "front", "free"] as const;
export type PictureView = (typeof PICTURE_VIEWS)[number];

/**
 * A picture of a move at one instant, as an SVG document: through the lens, from above, from the side, along x, or from
 * beside the rig. The same move gives the same text.
 *
 * @param t [s], clamped to the move.
 */
export function* drawPicture(trajectory: Trajectory, view: PictureView, t: number): Task<string> {
  const shot = shotAt(trajectory, t);
  return view === "lens" ? drawLensPicture(shot) : yield* drawOutsidePicture(trajectory, shot, view);
}
