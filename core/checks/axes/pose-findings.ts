import type { ResolvedJoint, ResolvedRig } from "../../rig/resolved-rig.ts";
import type { Finding } from "../finding.ts";
import { RANGE_SLACK } from "../thresholds.ts";

/**
 * `axis-range` for one pose: joints outside their range, or between the few positions that they have.
 *
 * @param q Shape (joints,), followers filled. Rotary [rad], linear [m].
 */
export function poseFindings({ joints }: ResolvedRig, q: ArrayLike<number>): Finding[] {
  return joints.flatMap((joint, idx): Finding[] => {
    const limit = joint.type === "fixed" ? undefined : brokenEnd(joint, q[idx]);
    return limit === undefined ? [] : [poseFinding(joint, q[idx], limit, joints)];
  });
}

/** The value of `joint` that is allowed and nearest to `value`; `undefined` when `value` itself is. */
function brokenEnd(joint: ResolvedJoint, value: number): number | undefined {
  const nearest = nearestAllowed(joint, value);
  return Math.abs(nearest - value) <= RANGE_SLACK[joint.type === "linear" ? "linear" : "rotary"] ? undefined : nearest;
}

/** The allowed value of a joint nearest to `value`: of its positions, else of its range. */
export function nearestAllowed({ positions, range }: ResolvedJoint, value: number): number {
  if (positions && positions.length > 0) {
    return positions.reduce((best, one) => (Math.abs(one - value) < Math.abs(best - value) ? one : best));
  }
  return range ? Math.min(Math.max(value, range.low), range.high) : value;
}

function poseFinding(joint: ResolvedJoint, measured: number, limit: number, joints: readonly ResolvedJoint[]): Finding {
  const { low = -Infinity, high = Infinity } = joint.range ?? {};
  return {
    code: "axis-range",
    severity: "error",
    origin: joint.origins.range || joint.origins.self,
    related: [],
    axis: joint.name,
    measured,
    limit,
    dimension: joint.type === "linear" ? "length" : "angle",
    evidence: "exact",
    facts: {
      end: joint.positions ? "position" : measured > limit ? "high" : "low",
      low,
      high,
      source: "constant",
      leader: joint.follows ? joints[joint.follows.leader].name : "",
    },
  };
}
