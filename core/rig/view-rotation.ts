import { quatAbout, rotateByQuat } from "../base/quat.ts";
import { add, cross, dot, normalise, scale, type Vec3 } from "../base/vec3.ts";

/** A right-handed frame of unit vectors. */
export type Triad = readonly [Vec3, Vec3, Vec3];

/**
 * The turn of a camera that sees `toTarget` on its sight with a level horizon, or one turned by `angle`: as one triad of
 * the camera frame and the same in the set.
 *
 * @param sight    In the camera frame; any length.
 * @param toTarget From the pupil to the target in the set; any length.
 * @param up       Unit. Where the sight leaves no exact answer, near the pole, the nearest lean is taken.
 * @returns `undefined` when pupil and target meet or the view is along `up`.
 */
export function viewTriads(
  sight: Vec3,
  toTarget: Vec3,
  angle: number,
  up: Vec3,
): { readonly camera: Triad; readonly set: Triad } | undefined {
  const goal = normalise(toTarget);
  const unit = normalise(sight);
  if (!goal || !unit) return undefined;
  // Seen from the level camera (rolled back by `angle`), up is (sin a, 0, cos a) with up · sight = up · goal.
  const level = rotateByQuat(quatAbout([1, 0, 0], angle), unit);
  const size = Math.hypot(level[0], level[2]);
  const phase = Math.atan2(level[2], level[0]);
  const lean = Math.asin(Math.min(1, Math.max(-1, dot(up, goal) / size)));
  const a = Math.cos(lean - phase) < Math.cos(Math.PI - lean - phase) ? Math.PI - lean - phase : lean - phase;
  const upSeen = rotateByQuat(quatAbout([1, 0, 0], -angle), [Math.sin(a), 0, Math.cos(a)]);
  const camera = triad(unit, upSeen);
  const set = triad(goal, up);
  return camera && set && { camera, set };
}

/** A vector of the camera frame in the set. */
export function turnByTriads({ camera, set }: { readonly camera: Triad; readonly set: Triad }, v: Vec3): Vec3 {
  const parts = camera.map((axis) => dot(axis, v));
  return add(scale(set[0], parts[0]), add(scale(set[1], parts[1]), scale(set[2], parts[2])));
}

/** Right-handed unit frame: first along `first`, second square to both. */
function triad(first: Vec3, second: Vec3): Triad | undefined {
  const side = normalise(cross(first, second));
  return side && [first, side, cross(first, side)];
}
