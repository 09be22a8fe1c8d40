import type { Dimension } from "../../base/dimension.ts";
import type { Task } from "../../base/task.ts";
import type { MoveAxis } from "../../motion/resolved-move.ts";
import type { Violation } from "../../motion/trajectory.ts";
import { axisAnchor, segmentKeys } from "../anchor.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { segmentFacts } from "../segment-facts.ts";
import { LIMIT_SLACK } from "../thresholds.ts";

export type LimitName = "speed" | "accel" | "jerk";

/** Derivative order of each limit; a stretch of time by r divides the quantity by r to this power. */
export const LIMIT_ORDER = { speed: 1, accel: 2, jerk: 3 } as const;

export function limitDimension(axis: MoveAxis, name: LimitName): Dimension {
  return `${axis.type === "linear" ? "length" : "angle"}-${name}`;
}

/** The check of one limit of every axis, driven, solved and following, and of the turntables: one finding a violation span. */
export function limitCheck(name: LimitName): Check {
  return {
    code: `axis-${name}`,
    *run(context): Task<readonly Finding[]> {
      const out: Finding[] = [];
      const { trajectory } = context;
      for (let axis = 0; axis < trajectory.axes.length; axis++) {
        const limit = trajectory.axes[axis].limits[name];
        if (limit === undefined || trajectory.sources[axis] === "constant") continue;
        const bound = limit * (1 + LIMIT_SLACK);
        const violations = trajectory.outside(axis, LIMIT_ORDER[name], -bound, bound);
        out.push(...violations.map((violation) => limitFinding(context, axis, name, limit, violation)));
        yield;
      }
      return out;
    },
  };
}

function limitFinding(
  { move, trajectory }: CheckContext,
  idx: number,
  name: LimitName,
  limit: number,
  { from, to, worst }: Violation,
): Finding {
  const axis = trajectory.axes[idx];
  const anchor = axisAnchor(trajectory, idx, worst.t, worst.side);
  const key = move.keys[anchor.key];
  const measured = Math.abs(worst.value);
  return {
    code: `axis-${name}`,
    severity: "error",
    origin: anchor.origin,
    related: [{ origin: axis.origins[name], note: "limit" }, ...segmentKeys(move, anchor)],
    key: key.label,
    axis: axis.name,
    time: { from, to },
    peak: worst.t,
    measured,
    limit,
    dimension: limitDimension(axis, name),
    evidence: worst.evidence,
    facts: segmentFacts(move, anchor, (measured / limit) ** (1 / LIMIT_ORDER[name])),
  };
}
