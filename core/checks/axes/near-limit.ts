import type { Task } from "../../base/task.ts";
import type { Extreme } from "../../motion/trajectory.ts";
import { axisAnchor } from "../anchor.ts";
import { LIMIT_ORDER, limitDimension, type LimitName } from "./axis-limit.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { LIMIT_SLACK } from "../thresholds.ts";

/**
 * `near-limit`: the worst instant of each speed, acceleration and jerk that uses more than the move's share of its limit
 * without breaking it. Ranges don't count: an axis parked at an end of travel is no news.
 */
export const nearLimit: Check = {
  code: "near-limit",
  *run(context): Task<readonly Finding[]> {
    const out: Finding[] = [];
    const { trajectory } = context;
    for (let axis = 0; axis < trajectory.axes.length; axis++) {
      if (trajectory.sources[axis] === "constant") continue;
      for (const name of Object.keys(LIMIT_ORDER) as LimitName[]) {
        const finding = nearFinding(context, axis, name);
        if (finding) out.push(finding);
      }
      yield;
    }
    return out;
  },
};

function nearFinding({ move, trajectory }: CheckContext, idx: number, name: LimitName): Finding | undefined {
  const axis = trajectory.axes[idx];
  const limit = axis.limits[name];
  if (limit === undefined) return undefined;
  const { low, high } = trajectory.extremes(idx, LIMIT_ORDER[name]);
  const worst: Extreme = Math.abs(low.value) > Math.abs(high.value) ? low : high;
  const measured = Math.abs(worst.value);
  const isNear = measured > limit * move.tolerance.nearLimit && measured <= limit * (1 + LIMIT_SLACK);
  if (!isNear) return undefined;
  const anchor = axisAnchor(trajectory, idx, worst.t, worst.side);
  return {
    code: "near-limit",
    severity: "information",
    origin: anchor.origin,
    related: [{ origin: axis.origins[name], note: "limit" }],
    key: move.keys[anchor.key].label,
    axis: axis.name,
    time: { from: worst.t, to: worst.t },
    peak: worst.t,
    measured,
    limit,
    dimension: limitDimension(axis, name),
    evidence: worst.evidence,
    facts: { of: name, share: measured / limit },
  };
}
