import type { Order, Trajectory } from "../../motion/trajectory.ts";
import { LIMIT_ORDER, type LimitName } from "../axes/axis-limit.ts";
import type { Peak } from "../scan/peak.ts";
import type { SampledExtremes } from "../scan/sampled-extremes.ts";
import { SCAN_TIME } from "../thresholds.ts";
import type { Measured } from "./measured.ts";

/** A derivative of an axis, exactly: its value has a sign, speeds and what comes after are told by their size, as limits are. */
export const axisDerivative = (order: Order): Measured => ({
  // eslint-disable-next-line require-yield -- A task like the costly ones, done at once.
  *extremes({ trajectory }, { subject, from, to }) {
    return magnitudes(trajectory, subject, order, from, to);
  },
  evidence: "exact",
});

/** The largest share that an axis uses of its limits of speed, acceleration and jerk. */
export const axisShare: Measured = {
  // eslint-disable-next-line require-yield -- A task like the costly ones, done at once.
  *extremes({ trajectory }, { subject, from, to }) {
    return shares(trajectory, subject, from, to);
  },
  evidence: "exact",
};

function magnitudes(trajectory: Trajectory, axis: number, order: Order, from: number, to: number): SampledExtremes {
  const { low, high } = trajectory.extremes(axis, order, from, to);
  if (order === 0) return { low, high };
  const most = -low.value > high.value ? { t: low.t, value: -low.value } : high;
  if (low.value > 0) return { low, high: most };
  if (high.value < 0) return { low: flipped(high), high: most };
  return { low: { t: restBetween(trajectory, axis, order, low.t, high.t), value: 0 }, high: most };
}

/** When a derivative of an axis that changes its sign between two times is 0, by bisection [s]. */
function restBetween(trajectory: Trajectory, axis: number, order: Order, below: number, above: number): number {
  const instant = trajectory.createInstant();
  const rates = [instant.value, instant.speed, instant.accel, instant.jerk][order];
  let [lo, hi] = [below, above];
  while (Math.abs(hi - lo) > SCAN_TIME) {
    const mid = (lo + hi) / 2;
    trajectory.at(mid, instant);
    if (rates[axis] < 0) lo = mid;
    else hi = mid;
  }
  return hi;
}

const flipped = ({ t, value }: Peak): Peak => ({ t, value: -value });

function shares(trajectory: Trajectory, axis: number, from: number, to: number): SampledExtremes {
  let best: Peak = { t: from, value: 0 };
  for (const [name, order] of Object.entries(LIMIT_ORDER) as [LimitName, 1 | 2 | 3][]) {
    const limit = trajectory.axes[axis].limits[name];
    if (limit === undefined) continue;
    const { high } = magnitudes(trajectory, axis, order, from, to);
    if (high.value / limit > best.value) best = { t: high.t, value: high.value / limit };
  }
  return { low: best, high: best };
}
