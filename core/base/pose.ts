import { IDENTITY_QUAT, invertQuat, multiplyQuats, rotateByQuat, type Quat } from "./quat.ts";
import { add, scale, type Vec3 } from "./vec3.ts";

/** A frame placed in another: p_outer = rotate(turn, p_inner) + at. Metres. */
export interface Pose {
  readonly at: Vec3;
  readonly turn: Quat;
}

export const IDENTITY_POSE: Pose = { at: [0, 0, 0], turn: IDENTITY_QUAT };

/** `inner` is placed in the frame that `outer` places: the result places it in outer's own surroundings. */
export function composePoses(outer: Pose, inner: Pose): Pose {
  return { at: applyPose(outer, inner.at), turn: multiplyQuats(outer.turn, inner.turn) };
}

/** A point of the inner frame in the outer one. */
export function applyPose(pose: Pose, point: Vec3): Vec3 {
  return add(rotateByQuat(pose.turn, point), pose.at);
}

/** The outer frame as seen from the inner one. */
export function invertPose(pose: Pose): Pose {
  const turn = invertQuat(pose.turn);
  return { at: scale(rotateByQuat(turn, pose.at), -1), turn };
}
