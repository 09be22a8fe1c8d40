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
  reportSharedLines(scope, fields, rig);
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

/** Two turning axes on one line have no arm between them: together they do what one does. */
function reportSharedLines(scope: Scope, fields: RigFields, { joints, head }: ResolvedRig): void {
  joints.forEach((joint, second) => {
    const first = turningBefore(joints, second);
    // Of pan and tilt it is said in other words.
    if (first < 0 || (head?.pan === first && head.tilt === second) || !isOnOneLine(joints, first, second)) return;
    const stated = fields.chain?.value[second]?.value.axis?.span ?? fields.urdf?.span;
    const message = `\`${joint.name}\` turns about the same line as \`${joints[first].name}\`: the arm between them has no length, so together they do what one does. Give \`${joint.name}\` the \`origin\` that it has on the rig.`;
    if (stated) report(scope, "degenerate-chain", stated, message, { severity: "warning", axis: joint.name });
  });
}

/** The driven turning axis before a driven turning axis of the chain, or -1. */
function turningBefore(joints: readonly ResolvedJoint[], at: number): number {
  const isDriven = (joint: ResolvedJoint): boolean => joint.type === "rotary" && joint.role === "driven";
  if (!isDriven(joints[at])) return -1;
  for (let i = at - 1; 0 <= i; i--) if (joints[i].type === "rotary") return isDriven(joints[i]) ? i : -1;
  return -1;
}

/** [m] Lines nearer to each other than this are one. */
const ONE_LINE = 1e-6;

/** True when nothing parts the lines of two turning axes: only rigid links and slides along the line are between them. */
function isOnOneLine(joints: readonly ResolvedJoint[], first: number, second: number): boolean {
  const own = joints[first].along;
  let frame = IDENTITY_POSE;
  for (let i = first + 1; i <= second; i++) {
    frame = composePoses(frame, joints[i].origin);
    const slides = i < second && joints[i].type === "linear" && joints[i].role !== "none";
    if (slides && PARALLEL < length(cross(own, rotateByQuat(frame.turn, joints[i].along)))) return false;
  }
  const isParallel = length(cross(own, rotateByQuat(frame.turn, joints[second].along))) < PARALLEL;
  return isParallel && length(cross(own, frame.at)) < ONE_LINE;
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
