import type { Task } from "../../base/task.ts";
import type { ResolvedKey } from "../../motion/resolved-move.ts";
import type { Violation } from "../../motion/trajectory.ts";
import { axisAnchor, leaderOf, segmentKeys } from "../anchor.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { isWithoutView } from "../picture/no-view.ts";
import { RANGE_SLACK } from "../thresholds.ts";

/** `axis-range`: every axis with a range, setup axes and followers too, over the whole move. */
export const axisRange: Check = {
  code: "axis-range",
  *run(context): Task<readonly Finding[]> {
    const out: Finding[] = [];
    const { trajectory } = context;
    for (let axis = 0; axis < trajectory.axes.length; axis++) {
      const { range, type } = trajectory.axes[axis];
      if (!range) continue;
      const slack = RANGE_SLACK[type];
      for (const violation of trajectory.outside(axis, 0, range.low - slack, range.high + slack)) {
        const { t } = violation.worst;
        // Where there is no view an aimed axis could stand anywhere.
        if (trajectory.sources[axis] === "solved" && isWithoutView(trajectory, { from: t, to: t })) continue;
        out.push(rangeFinding(context, axis, violation));
      }
      yield;
    }
    return out;
  },
};

/** What of a key decides where a solved axis stands. */
const solvedBy = (key: ResolvedKey): number | undefined => key.camera?.origin || key.aim?.origin || key.framingOrigin;

function rangeFinding({ move, trajectory }: CheckContext, idx: number, { from, to, worst }: Violation): Finding {
  const axis = trajectory.axes[idx];
  const range = axis.range ?? { low: -Infinity, high: Infinity };
  const anchor = axisAnchor(trajectory, idx, worst.t, worst.side, solvedBy);
  const isSetup = axis.role === "setup";
  const isHigh = worst.value > range.high;
  const leader = leaderOf(move, idx);
  return {
    code: "axis-range",
    severity: "error",
    origin: isSetup ? move.setupOrigins?.[idx] || move.origin : anchor.origin,
    related: [
      { origin: axis.origins.range || axis.origins.self, note: "limit" },
      ...(isSetup ? [] : segmentKeys(move, anchor)),
    ],
    // What is set before the take stands in no key and at no time of its own.
    key: isSetup ? undefined : move.keys[anchor.key].label,
    axis: axis.name,
    time: { from, to },
    peak: isSetup ? undefined : worst.t,
    measured: worst.value,
    limit: isHigh ? range.high : range.low,
    dimension: axis.type === "linear" ? "length" : "angle",
    evidence: worst.evidence,
    facts: {
      end: isHigh ? "high" : "low",
      low: range.low,
      high: range.high,
      source: trajectory.sources[idx],
      leader: leader === idx ? "" : trajectory.axes[leader].name,
    },
  };
}
