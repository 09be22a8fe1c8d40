import type { Task } from "../base/task.ts";
import { fastestOf } from "./fastest.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { fitSegments } from "./retime-segments.ts";
import type { LimitShare } from "./retime-shares.ts";
import { timingOf } from "./retime-timing.ts";
import { fitWhole, type NoFit } from "./retime-whole.ts";
import type { Trajectory } from "./trajectory.ts";

/** What a move is fitted to its limits by. */
export type Fit = "whole" | "segments" | "fastest";
export const FITS: readonly Fit[] = ["whole", "segments", "fastest"];

/** The least time of a move's path, whatever keys can say of it. */
export interface LeastTime {
  /** Run through inside speed, acceleration and jerk limits [s]. */
  readonly duration: number;
  /** Inside those of speed and acceleration alone, by reachability analysis: no timing of this path is shorter [s]. */
  readonly lowerBound: number;
  readonly reason?: string;
}

/** A move at new times that keep every limit of speed, acceleration and jerk. */
export interface FittedMove {
  readonly status: "fitted";
  readonly fit: Fit;
  readonly move: ResolvedMove;
  readonly trajectory: Trajectory;
  readonly shares: readonly LimitShare[];
  /** Of `whole`: new time over old. */
  readonly factor?: number;
  /** Of `whole`: found by planning again and again, as something keeps its own time. */
  readonly iterated?: boolean;
  /** Of the others: keys whose way keeps its time, as no limit asks for any on it. */
  readonly untouched?: readonly number[];
  /** Of `fastest`. */
  readonly least?: LeastTime;
}

/** Why a move cannot be fitted. */
export type Unfitted = NoFit | { readonly status: "refused"; readonly reason: string };

/**
 * Fits a move's times to the limits of its axes.
 *
 * @param step    Of `segments` and `fastest`: ways are made whole numbers of this [s]; 0 for any.
 * @param planned The move's own trajectory, when it is at hand.
 */
export function* fitMove(
  move: ResolvedMove,
  fit: Fit,
  step: number,
  planned?: Trajectory,
): Task<FittedMove | Unfitted> {
  if (fit === "whole") {
    const found = yield* fitWhole(move, planned);
    return found.status === "fitted" ? { ...found, fit } : found;
  }
  if (fit === "segments") {
    const found = yield* fitSegments(move, step);
    return found.status === "fitted" ? { ...found, fit } : found;
  }
  return yield* fitFastest(move, step, planned ?? (yield* planTrajectory(move)));
}

/**
 * Keys can give the times of the fastest way through a path, but not its course between them: channels that are laid anew
 * through the keys come near the path and its times. So those times are one start from which every way is cut; the bound of
 * the whole move is the other, and the shorter outcome is taken.
 */
function* fitFastest(move: ResolvedMove, step: number, planned: Trajectory): Task<FittedMove | Unfitted> {
  const fastest = yield* fastestOf(planned);
  const { status, duration, lowerBound, reason = "" } = fastest;
  if (status !== "timed" && status !== "not-settled") return { status: "refused", reason };
  const { holds } = timingOf(move);
  const times = fastest.keyTimes;
  const ways = times.map((time, i) => (i === 0 ? 0 : time - times[i - 1] - holds[i - 1]));
  const found = [yield* fitSegments(move, step, ways), yield* fitSegments(move, step)];
  const fitted = found.flatMap((one) => (one.status === "fitted" ? [one] : []));
  const [best] = fitted.sort((a, b) => a.trajectory.duration - b.trajectory.duration);
  if (!best) return found[0] as NoFit;
  return { ...best, fit: "fastest", least: { duration, lowerBound, ...(reason === "" ? {} : { reason }) } };
}
