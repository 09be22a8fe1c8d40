import { multiplyQuats, quatFromMatrix, rotateByQuat } from "../base/quat.ts";
import type { Pose } from "../base/pose.ts";
import { add, type Vec3 } from "../base/vec3.ts";
import type { BaseFrame, PoseBuffer } from "./chain.ts";
import type { Body } from "./resolved-rig.ts";

/** The frame of a link in the frame that `pose` was computed in; link -1 is the base. */
export function linkPose(base: BaseFrame, pose: PoseBuffer, link: number): Pose {
  const [rotations, positions] = link < 0 ? [base.rotation, base.position] : [pose.rotations, pose.positions];
  const at = 3 * Math.max(0, link);
  return {
    at: [positions[at], positions[at + 1], positions[at + 2]],
    turn: quatFromMatrix(rotations, 9 * Math.max(0, link)),
  };
}

/** Where each body is for a pose, in the order of `bodies`: centres [m] and turns in the frame of the pose. */
export function bodyPoses(bodies: readonly Body[], base: BaseFrame, pose: PoseBuffer): Pose[] {
  return bodies.map((body) => {
    const { at, turn } = linkPose(base, pose, body.link);
    return { at: add(at, rotateByQuat(turn, body.pose.at)), turn: multiplyQuats(turn, body.pose.turn) };
  });
}

/** The camera's frame at the flange: x along the view, y left, z up. */
export function mountPose(pose: PoseBuffer): Pose {
  const p = pose.mountPosition;
  return { at: [p[0], p[1], p[2]], turn: quatFromMatrix(pose.mountRotation) };
}

/** Origins of the links, base first and flange last, for drawing a rig that has no bodies. Shape (n + 2,). */
export function linkPoints(base: BaseFrame, pose: PoseBuffer): Vec3[] {
  const points: Vec3[] = [[base.position[0], base.position[1], base.position[2]]];
  for (let i = 0; i < pose.positions.length; i += 3) {
    points.push([pose.positions[i], pose.positions[i + 1], pose.positions[i + 2]]);
  }
  const m = pose.mountPosition;
  return [...points, [m[0], m[1], m[2]]];
}
