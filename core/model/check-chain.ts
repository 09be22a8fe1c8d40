import { composePoses, IDENTITY_POSE } from "../base/pose.ts";
import { quatAbout, rotateByQuat } from "../base/quat.ts";
import { cross, length } from "../base/vec3.ts";
import type { ResolvedJoint, ResolvedRig } from "../rig/resolved-rig.ts";
import type { rigDocument } from "../schema/rig-fields.ts";
import type { Declared } from "./declared.ts";
import { report } from "./report.ts";
import type { Scope } from "./resolution.ts";

type RigFields = NonNullable<Declared<typeof rigDocument>>["value"];

/** Sine of the angle between pan and tilt below which they turn about the same direction: 0.06 deg. */
const PARALLEL = 1e-3;

/** Findings of a chain that can be built but not used. */
export function checkChain(scope: Scope, fields: RigFields, rig: ResolvedRig): void {
  const span = fields.urdf?.span ?? fields.chain?.span ?? { start: 0, end: 0 };
  const place = fields.urdf ? span : { start: span.start, end: span.start + 1 };
  if (!rig.joints.some((joint) => joint.role === "driven")) {
    report(scope, "degenerate-chain", place, "No axis of this chain is driven in a take, so nothing can move.");
  }
  const { head } = rig;
  if (!head) return;
  if (fields.head && head.pan > head.tilt) {
    const message = "`head`: tilt must come after pan in the chain, nearer to the camera.";
    report(scope, "degenerate-chain", fields.head.span, message);
    return;
  }
  if (fields.head && areParallel(rig.joints, head.pan, head.tilt)) {
    const message = "`head`: pan and tilt turn about the same direction, so most targets are out of their reach.";
    report(scope, "degenerate-chain", fields.head.span, message);
  }
}

/** True when two axes of the chain are parallel with every axis between them fixed, so that no pose parts them. */
function areParallel(joints: readonly ResolvedJoint[], first: number, second: number): boolean {
  let frame = IDENTITY_POSE;
  for (let i = first + 1; i <= second; i++) {
    if (i < second && joints[i].type === "rotary" && joints[i].role !== "none") return false;
    frame = composePoses(frame, joints[i].origin);
  }
  // The second axis in the frame of the first, whose own rotation leaves its own direction alone.
  const turned = rotateByQuat(frame.turn, joints[second].along);
  const own = rotateByQuat(quatAbout(joints[first].along, 0), joints[first].along);
  return length(cross(own, turned)) < PARALLEL;
}
