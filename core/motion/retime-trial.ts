import type { Task } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { PlanRecord } from "./plan-record.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { isKept, shareOf, statedLimits, type StatedLimit } from "./retime-shares.ts";
import { rampNeeds, type RampRoom } from "./retime-ramps.ts";
import { keyTimesOf, withTiming, type Timing } from "./retime-timing.ts";
import type { Trajectory } from "./trajectory.ts";

/** What a trial must keep beside the limits: what was in order before stays in order. */
export interface Kept {
  /** How far each axis lies outside its range, 0 within it [m or rad]. */
  readonly outside: readonly number[];
  /** Keys that the motion comes to. */
  readonly solved: readonly boolean[];
  /** Ways that have room for their ramps. */
  readonly rooms: readonly RampRoom[];
}

/** Rounding of a value at an end of travel [m or rad]. */
const END = 1e-7;

export function keptBy(trajectory: Trajectory, rooms: readonly RampRoom[]): Kept {
  const outside = trajectory.axes.map((_, axis) => outsideBy(trajectory, axis));
  return { outside, solved: trajectory.keys.map(isSolved), rooms };
}

/** Shared by all trials of one search; counts them. */
export interface Trials {
  readonly move: ResolvedMove;
  readonly kept: Kept;
  /** By key: the limit that stood against the last trial that changed its way, looked at first. */
  readonly suspects: Map<number, StatedLimit>;
  /** Of the last timing that held: what a trial leaves as it was there is not solved again. */
  known?: PlanRecord;
  plans: number;
}

/** The move at other times, planned. */
export function* planAt(trials: Trials, timing: Timing): Task<Trajectory> {
  trials.plans += 1;
  return yield* planTrajectory(withTiming(trials.move, timing), trials.known);
}

/**
 * Whether the move at `timing` keeps every limit and all that it kept before. Ends with the first that it does not.
 *
 * @param key The key whose way was changed.
 */
export function* holds(trials: Trials, timing: Timing, key: number): Task<boolean> {
  const { outside, solved, rooms } = trials.kept;
  if (rampNeeds(withTiming(trials.move, timing), rooms).some((need) => 1 < need)) return false;
  const trajectory = yield* planAt(trials, timing);
  const suspect = trials.suspects.get(key);
  if (suspect && !isKept(shareOf(trajectory, suspect))) return false;
  for (const limit of statedLimits(trajectory)) {
    if (!isKept(shareOf(trajectory, limit))) {
      trials.suspects.set(key, limit);
      return false;
    }
    yield;
  }
  if (!solved.every((was, i) => !was || isSolved(trajectory.keys[i]))) return false;
  if (!outside.every((by, axis) => outsideBy(trajectory, axis) <= by + END)) return false;
  trials.known = trajectory.record;
  return true;
}

/** By key: by which factor its way would have to be stretched for what happens on it; 0 where nothing with a limit moves. */
export function* needsByKey(
  trajectory: Trajectory,
  timing: Timing,
  rooms: readonly RampRoom[] = [],
): Task<readonly number[]> {
  const ramps = rampNeeds(trajectory.move, rooms);
  const times = keyTimesOf(timing);
  const limits = statedLimits(trajectory);
  const needs: number[] = [];
  for (let i = 0; i < times.length; i++) {
    const from = times[i] - timing.ways[i];
    needs.push(
      i === 0
        ? 0
        : limits.reduce((most, limit) => Math.max(most, shareOf(trajectory, limit, from, times[i]).need), ramps[i]),
    );
    yield;
  }
  return needs;
}

const isSolved = ({ status, branchMiss }: Trajectory["keys"][number]): boolean =>
  status === "converged" && branchMiss === undefined;

function outsideBy(trajectory: Trajectory, axis: number): number {
  const { range } = trajectory.axes[axis];
  if (!range) return 0;
  const { low, high } = trajectory.extremes(axis, 0);
  return Math.max(0, range.low - low.value, high.value - range.high);
}
