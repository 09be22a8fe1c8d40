import type { Task } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import type { Trajectory } from "./trajectory.ts";
import { shareOf, type StatedLimit } from "./retime-shares.ts";
import { timingOf, withTiming } from "./retime-timing.ts";

/** Keys by position: the time between them is stretched, what is before stays and what is after moves along. */
export interface Segment {
  readonly from: number;
  readonly to: number;
}

/** A segment that would have to be this much longer is not helped by time. */
const MOST_FACTOR = 64;
/** The factor is known to this share when the search ends. */
const KNOWN_TO = 2e-4;
/** Steps of the search outward from 1. */
const STRIDE = 1.3;

/** The move with the ways between two keys multiplied by `factor`. Holds, written speed and paths of targets stay. */
export function stretched(move: ResolvedMove, { from, to }: Segment, factor: number): ResolvedMove {
  const { ways, holds } = timingOf(move);
  const longer = ways.map((way, i) => (from < i && i <= to ? way * factor : way));
  return withTiming(move, { ways: longer, holds });
}

/**
 * Largest share of some limits from `from` to `to` [s], one above 1 by the root that its order stretches it with: by about
 * as much the time must grow.
 */
export type Excess = (trajectory: Trajectory, from: number, to: number) => number | Task<number>;

/** `stretchUntil` for limits of axes. */
export function stretchSegment(
  move: ResolvedMove,
  segment: Segment,
  limits: readonly StatedLimit[],
): Task<number | undefined> {
  return stretchUntil(move, segment, (trajectory, from, to) =>
    limits.reduce((excess, limit) => {
      const { share, need } = shareOf(trajectory, limit, from, to);
      return Math.max(excess, share <= 1 ? share : need);
    }, 0),
  );
}

/**
 * The smallest factor (at least 1, at most 0.02 % more than needed) by which the time of a segment must grow for the
 * limits to hold in it, found by planning the whole move again for each trial, as a stretched segment changes its
 * neighbours.
 *
 * @returns `undefined` when no stretch helps.
 */
export function* stretchUntil(move: ResolvedMove, segment: Segment, limits: Excess): Task<number | undefined> {
  let low = 1;
  let high = 1;
  let reached = yield* excessOf(move, segment, limits, 1);
  if (reached <= 1) return 1;
  while (1 < reached) {
    low = high;
    // From rest to rest the excess goes as the factor to the power of the order: the first stride aims a little short.
    high *= Math.min(8, Math.max(STRIDE, reached));
    if (MOST_FACTOR < high) return undefined;
    reached = yield* excessOf(move, segment, limits, high);
  }
  while (KNOWN_TO * low < high - low) {
    const middle = (low + high) / 2;
    if (1 < (yield* excessOf(move, segment, limits, middle))) low = middle;
    else high = middle;
  }
  return high;
}

function* excessOf(move: ResolvedMove, segment: Segment, limits: Excess, factor: number): Task<number> {
  const trial = stretched(move, segment, factor);
  const trajectory = yield* planTrajectory(trial);
  const excess = limits(trajectory, trial.keys[segment.from].time, trial.keys[segment.to].time);
  return typeof excess === "number" ? excess : yield* excess;
}
