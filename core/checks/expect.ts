import type { Task } from "../base/task.ts";
import type { ResolvedExpectation, ResolvedMeasure } from "../motion/resolved-move.ts";
import type { Order, Trajectory } from "../motion/trajectory.ts";
import { keyAt } from "./anchor.ts";
import { LIMIT_ORDER, type LimitName } from "./axes/axis-limit.ts";
import type { Check } from "./check.ts";
import type { Finding } from "./finding.ts";
import type { Peak } from "./scan/peak.ts";
import { sampledExtremes, type Quantity, type SampledExtremes } from "./scan/sampled-extremes.ts";
import { EXPECT_SLACK, SCAN_TIME } from "./thresholds.ts";

/** `expect`: the move's own tests; a failing one tells the extreme that breaks it most and its time. */
export const expectations: Check = {
  code: "expect",
  *run({ move, trajectory }): Task<readonly Finding[]> {
    const out: Finding[] = [];
    for (const expectation of move.expectations ?? []) {
      const finding = yield* test(trajectory, expectation);
      if (finding) out.push(finding);
      yield;
    }
    return out;
  },
};

interface Failure extends Peak {
  readonly bound: number;
  readonly side: "above" | "below" | "without";
}

function* test(trajectory: Trajectory, expectation: ResolvedExpectation): Task<Finding | undefined> {
  const { move } = trajectory;
  const extremes = yield* extremesOf(trajectory, expectation);
  const failure = worstOf(expectation, extremes);
  if (!failure) return undefined;
  const { measure, of, low, high, from, to, origin, dimension } = expectation;
  const all = move.keys.map((_, idx) => idx);
  const timeless = measure.kind === "duration";
  const key = move.keys[keyAt(move, all, failure.t).key];
  return {
    code: "expect",
    severity: "error",
    origin,
    related: timeless ? [] : [{ origin: key.timeOrigin || key.origin, note: "see" }],
    ...(timeless ? {} : { key: key.label, time: { from, to }, peak: failure.t }),
    ...(measure.kind === "axis" || measure.kind === "share" ? { axis: move.axes[measure.axis].name } : {}),
    ...(failure.side === "without" ? {} : { measured: failure.value }),
    limit: failure.bound,
    dimension,
    evidence: measure.kind === "axis" || measure.kind === "share" || timeless ? "exact" : "sampled",
    facts: {
      of,
      side: failure.side,
      ...(low === undefined ? {} : { low }),
      ...(high === undefined ? {} : { high }),
      ...(0 < from || to < move.keys[move.keys.length - 1].time ? { from, to } : {}),
    },
  };
}

/** The bound that is broken most, with where; a quantity without a value breaks any. */
function worstOf(
  { low, high, from }: ResolvedExpectation,
  { low: least, high: most, without }: SampledExtremes,
): Failure | undefined {
  if (without !== undefined) return { t: without, value: NaN, bound: high ?? low ?? from, side: "without" };
  const over = high === undefined ? 0 : most.value - high;
  const under = low === undefined ? 0 : low - least.value;
  const slack = (bound: number): number => EXPECT_SLACK * Math.max(1, Math.abs(bound));
  if (high !== undefined && over >= under && over > slack(high)) return { ...most, bound: high, side: "above" };
  if (low !== undefined && under > slack(low)) return { ...least, bound: low, side: "below" };
  return undefined;
}

function* extremesOf(trajectory: Trajectory, { measure, from, to }: ResolvedExpectation): Task<SampledExtremes> {
  switch (measure.kind) {
    case "axis":
      return magnitudes(trajectory, measure.axis, measure.order, from, to);
    case "share":
      return shares(trajectory, measure.axis, from, to);
    case "duration": {
      const peak = { t: trajectory.duration, value: trajectory.duration };
      return { low: peak, high: peak };
    }
    case "camera":
    case "target":
      return yield* sampledExtremes(
        trajectory,
        quantityOf(measure),
        from,
        to,
        measure.of === "speed" ? "rates" : "poses",
      );
  }
}

/** Values have a sign; speeds and what comes after are told by their size, as limits are. */
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

function quantityOf(measure: Extract<ResolvedMeasure, { kind: "camera" | "target" }>): Quantity {
  if (measure.kind === "camera") {
    if (measure.of === "height") return ({ position }, { floor }) => position[2] - floor;
    return ({ velocity }) => Math.hypot(velocity[0], velocity[1], velocity[2]);
  }
  const { target, of } = measure;
  if (of === "distance") return ({ distance }) => distance[target];
  return ({ framing }) => framing[2 * target + (of === "down" ? 1 : 0)];
}
