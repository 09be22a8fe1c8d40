import type { FindingCode } from "../../core/base/finding-code.ts";
import type { Task } from "../../core/base/task.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import { LIMIT_SLACK } from "../../core/checks/thresholds.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { Order, Trajectory } from "../../core/motion/trajectory.ts";

/** The keys between which a limit is broken, and by which factor the time between them must grow. */
export interface Stretch {
  /** Positions in `move.keys`; the times of `from` and those before stay. */
  readonly from: number;
  readonly to: number;
  /** More than 1; at most 0.02 % more than is needed. */
  readonly factor: number;
}

const LIMITS: Readonly<
  Partial<Record<FindingCode, { readonly order: Order; readonly name: "speed" | "accel" | "jerk" }>>
> = {
  "axis-speed": { order: 1, name: "speed" },
  "axis-accel": { order: 2, name: "accel" },
  "axis-jerk": { order: 3, name: "jerk" },
};

/** A segment that would have to be this much longer is not helped by time: the path itself is wrong. */
const FACTOR_CAP = 64;
/** The search ends when the factor is known so well; the text's rounding comes on top. */
const FACTOR_STEP = 1e-4;

/** True for findings that more time between keys can cure. */
export function isStretchable(finding: PlacedFinding): boolean {
  return LIMITS[finding.code] !== undefined && finding.time !== undefined && finding.axis !== undefined;
}

/**
 * The smallest stretch of the segments in which `finding` lies that keeps its axis inside the limit there, found by
 * planning the whole move again for each trial: a stretched segment changes its neighbours. `undefined` when no stretch
 * helps.
 */
export function* findStretch(move: ResolvedMove, finding: PlacedFinding): Task<Stretch | undefined> {
  const limit = LIMITS[finding.code];
  const axis = move.axes.findIndex(({ name }) => name === finding.axis);
  const segment = segmentOf(move, finding);
  if (!limit || !segment || axis < 0) return undefined;
  const bound = (move.axes[axis].limits[limit.name] ?? Infinity) * (1 + LIMIT_SLACK);

  const holds = function* (factor: number): Task<boolean> {
    const trial = stretched(move, { ...segment, factor });
    const trajectory = yield* planTrajectory(trial);
    return isInside(trajectory, axis, limit.order, bound, trial.keys[segment.from].time, trial.keys[segment.to].time);
  };

  // The law that holds for a segment at rest at both ends gives the first guess: speed goes as 1/T, and so on.
  const excess = Math.abs((finding.value ?? 0) / (finding.limit ?? 1));
  let high = Number.isFinite(excess) && excess > 1 ? excess ** (1 / limit.order) : 2;
  let low = 1;
  while (!(yield* holds(high))) {
    low = high;
    high *= 1.25;
    if (high > FACTOR_CAP) return undefined;
  }
  while (high - low > FACTOR_STEP) {
    const middle = (low + high) / 2;
    if (yield* holds(middle)) high = middle;
    else low = middle;
  }
  return { ...segment, factor: high };
}

/** The move with the time between two keys stretched and all later keys moved. */
export function stretched(move: ResolvedMove, { from, to, factor }: Stretch): ResolvedMove {
  const start = move.keys[from].time;
  const shift = (move.keys[to].time - start) * (factor - 1);
  const keys = move.keys.map((key, idx) => {
    if (idx <= from) return key;
    return { ...key, time: idx < to ? start + (key.time - start) * factor : key.time + shift };
  });
  return { ...move, keys };
}

/** The keys just outside of the span in which the finding holds, so that all of it lies between them. */
function segmentOf({ keys }: ResolvedMove, finding: PlacedFinding): { from: number; to: number } | undefined {
  const { time, peak = finding.time?.from } = finding;
  if (!time || peak === undefined || keys.length < 2) return undefined;
  const begin = (t: number) =>
    keys.reduce((found, key, idx) => (key.time <= t && idx < keys.length - 1 ? idx : found), 0);
  const from = begin(time.from);
  const to = Math.max(from, keys[begin(time.to)].time < time.to ? begin(time.to) : begin(time.to) - 1) + 1;
  return { from, to };
}

/** [s] What only touches the end of the segment belongs to its neighbour. */
const TOUCH = 1e-6;

function isInside(
  trajectory: Trajectory,
  axis: number,
  order: Order,
  bound: number,
  from: number,
  to: number,
): boolean {
  const spans = trajectory.outside(axis, order, -bound, bound);
  return !spans.some((span) => span.from < to - TOUCH && from + TOUCH < span.to);
}
