import type { Task } from "../../base/task.ts";
import type { Extreme } from "../../motion/trajectory.ts";
import { axisAnchor, segmentKeys } from "../anchor.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import type { Exceeding, Scan } from "../scan/scan.ts";
import { POLE_NEAR, RUNAWAY_SPEED } from "../thresholds.ts";

/**
 * `aim-spin`: near the pan axis an aim turns pan by view speed / sin(angle). Told where pan or roll breaks its speed limit
 * there although the view itself turns slowly enough for it.
 */
export const aimSpin: Check = {
  code: "aim-spin",
  *run(context): Task<readonly Finding[]> {
    const head = context.move.rig.head;
    if (!head) return [];
    const scan = yield* context.scan("poses");
    const joints = [head.pan, ...(head.roll === undefined ? [] : [head.roll])];
    const axes = joints.map((joint) => context.trajectory.axes.findIndex((axis) => axis.joint === joint));
    const out: Finding[] = [];
    for (const near of yield* scan.above("pole", -POLE_NEAR)) {
      for (const axis of axes) {
        if (axis < 0 || context.trajectory.sources[axis] !== "solved") continue;
        const finding = spinFinding(context, scan, near, axis);
        if (finding) out.push(finding);
        yield;
      }
    }
    return out;
  },
};

function spinFinding(context: CheckContext, scan: Scan, near: Exceeding, idx: number): Finding | undefined {
  const { move, trajectory } = context;
  const axis = trajectory.axes[idx];
  const { low, high } = trajectory.extremes(idx, 1, near.from, near.to);
  const worst: Extreme = Math.abs(low.value) > Math.abs(high.value) ? low : high;
  const speed = Math.abs(worst.value);
  const limit = axis.limits.speed ?? RUNAWAY_SPEED;
  const angle = Math.max(0, -measurePole(scan, worst.t));
  const isUnbounded = worst.evidence === "unbounded" || !Number.isFinite(speed);
  const isSpin = isUnbounded || (speed > limit && speed * Math.sin(angle) <= limit);
  if (!isSpin) return undefined;
  const anchor = axisAnchor(trajectory, idx, worst.t, worst.side);
  const key = move.keys[anchor.key];
  const enter = scan.look(near.from).value[idx];
  const leave = scan.look(near.to).value[idx];
  return {
    code: "aim-spin",
    severity: isUnbounded ? "error" : "warning",
    origin: key.aim?.origin || key.framingOrigin || anchor.origin,
    related: [{ origin: axis.origins.speed, note: "limit" }, ...segmentKeys(move, anchor)],
    key: key.label,
    axis: axis.name,
    time: { from: near.from, to: near.to },
    peak: worst.t,
    measured: isUnbounded ? Infinity : speed,
    limit,
    dimension: "angle-speed",
    evidence: isUnbounded ? "unbounded" : worst.evidence,
    facts: {
      angle,
      // Pan turns by view speed / sin(angle): this far off the pole the same view keeps the limit.
      clear: isUnbounded ? POLE_NEAR : Math.asin(Math.min(1, (Math.sin(angle) * speed) / limit)),
      enter,
      leave,
      limited: axis.limits.speed === undefined ? "" : "limit",
    },
  };
}

function measurePole(scan: Scan, t: number): number {
  const angle = scan.look(t).poleAngle;
  return Number.isNaN(angle) ? -POLE_NEAR : -angle;
}
