import { applyPose, composePoses, invertPose, type Pose } from "../../base/pose.ts";
import { quatFromMatrix } from "../../base/quat.ts";
import type { Vec3 } from "../../base/vec3.ts";
import { pupilAt } from "../../lens/pupil.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { convexOfPoints } from "../../solid/convex.ts";
import { createGap, measureGap } from "../../solid/gap.ts";
import type { SpaceBody } from "../../space/space-body.ts";

/**
 * Whether a body of the rig is the camera as the rig states it: fixed to the flange, and around the point at which the view
 * begins, which is the front of the lens, or its entrance pupil where the camera's document states no barrel.
 */
export function holdsView({ rig, optics }: ResolvedMove, body: SpaceBody): boolean {
  const last = rig.joints.length - 1;
  if (body.link < 0 || rig.joints.slice(body.link + 1).some(({ type }) => type !== "fixed")) return false;
  let flange: Pose = rig.mount;
  for (let joint = last; body.link < joint; joint--) flange = composePoses(rig.joints[joint].origin, flange);
  const own: Pose = { at: vec(body.position), turn: quatFromMatrix(body.rotation) };
  const inBody = composePoses(invertPose(own), flange);
  return [optics.focal.low, optics.focal.high].every((focal) => {
    const ahead = Math.max(pupilAt(optics, focal, NaN), optics.front?.length ?? 0);
    const gap = createGap();
    const point = convexOfPoints(applyPose(inBody, [ahead, 0, 0]));
    measureGap(body.convex, IDENTITY, ZERO, point, IDENTITY, ZERO, gap);
    return gap.distance <= 0;
  });
}

const IDENTITY: readonly number[] = [1, 0, 0, 0, 1, 0, 0, 0, 1];
const ZERO: readonly number[] = [0, 0, 0];

const vec = (from: Float64Array): Vec3 => [from[0], from[1], from[2]];
