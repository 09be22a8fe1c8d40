import type { ResolvedJoint } from "../rig/resolved-rig.ts";
import { report } from "./report.ts";
import { bindAxis } from "./bind-axis.ts";
import type { Scope } from "./resolution.ts";
import { resolveFollow, type UnboundJoint } from "./resolve-joint.ts";

/** Joints with their leaders bound, or `undefined` when a leader is unknown or followers go in a circle. */
export function bindFollowers(scope: Scope, links: readonly UnboundJoint[]): ResolvedJoint[] | undefined {
  const bare = links.map((link) => link.joint);
  let whole = true;
  const joints = links.map(({ joint, fields }): ResolvedJoint => {
    const follows = fields.value.follows;
    if (!follows || joint.type === "fixed") return joint;
    const leader = follows.value.axis && bindAxis(scope, follows.value.axis, bare);
    const type = leader === undefined ? undefined : bare[leader].type;
    if (type === "fixed") {
      const message = `\`${joint.name}\` follows \`${follows.value.axis?.value}\`, which is fixed and never moves.`;
      report(scope, "degenerate-chain", follows.span, message, { axis: joint.name });
    }
    const law = type && type !== "fixed" ? resolveFollow(scope, follows, joint.type, type) : undefined;
    if (leader === undefined || !law) {
      whole = false;
      return joint;
    }
    return { ...joint, follows: { leader, ...law } };
  });
  return whole && !reportCircles(scope, links, joints) ? joints : undefined;
}

/** One finding for each circle, at its first follower. */
function reportCircles(scope: Scope, links: readonly UnboundJoint[], joints: readonly ResolvedJoint[]): boolean {
  const reported = new Set<number>();
  joints.forEach((joint, start) => {
    const trail: number[] = [];
    let at: number | undefined = start;
    while (at !== undefined && !trail.includes(at) && !reported.has(at)) {
      trail.push(at);
      at = joints[at].follows?.leader;
    }
    if (trail.length === 0 || at !== start) return;
    for (const index of trail) reported.add(index);
    const names = [...trail, start].map((index) => `\`${joints[index].name}\``).join(" follows ");
    const span = links[start].fields.value.follows?.span ?? links[start].fields.span;
    report(scope, "degenerate-chain", span, `${names}: a circle of followers has no leader.`, { axis: joint.name });
  });
  return reported.size > 0;
}
