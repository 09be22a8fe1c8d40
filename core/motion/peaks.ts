import type { MoveAxis } from "./resolved-move.ts";
import type { Order, Trajectory } from "./trajectory.ts";

/** Where one axis comes nearest to one of its limits over a span of time. */
export interface Peak {
  /** Index into the axes of the trajectory. */
  readonly axis: number;
  /** 0: its range, 1: speed, 2: acceleration, 3: jerk. */
  readonly order: Order;
  /** [s] */
  readonly t: number;
  /** Of the limit: 1 at it, more above it; Infinity where the rate is unbounded. Of a range: 0 in its middle, 1 at its ends. */
  readonly share: number;
  /** Size of the rate, or the value of the axis for a range; SI. */
  readonly value: number;
  /** The limit; for a range the end that is nearer. */
  readonly limit: number;
}

/** How near one axis comes to its limit of an order over `from`..`to` [s]; `undefined` where it has no such limit. */
export function peakOf(
  trajectory: Trajectory,
  axis: number,
  order: Order,
  from = 0,
  to = trajectory.duration,
): Peak | undefined {
  const { limits, range } = trajectory.axes[axis];
  if (order === 0) return range && rangePeak(trajectory, axis, range, from, to);
  const limit = [limits.speed, limits.accel, limits.jerk][order - 1];
  if (limit === undefined || !(limit > 0)) return undefined;
  const { low, high } = trajectory.extremes(axis, order, from, to);
  const extreme = Math.abs(low.value) > Math.abs(high.value) ? low : high;
  const value = Math.abs(extreme.value);
  return { axis, order, t: extreme.t, share: value / limit, value, limit };
}

function rangePeak(
  trajectory: Trajectory,
  axis: number,
  range: NonNullable<MoveAxis["range"]>,
  from: number,
  to: number,
): Peak | undefined {
  const half = (range.high - range.low) / 2;
  if (!(half > 0) || !Number.isFinite(half)) return undefined;
  const { low, high } = trajectory.extremes(axis, 0, from, to);
  const middle = range.low + half;
  const isLow = middle - low.value > high.value - middle;
  const { t, value } = isLow ? low : high;
  const share = Math.abs(value - middle) / half;
  return { axis, order: 0, t, share, value, limit: isLow ? range.low : range.high };
}

/** The axis that comes nearest to its limit of an order; `undefined` where no axis that moves has one. */
export function worstPeak(trajectory: Trajectory, order: Order, from?: number, to?: number): Peak | undefined {
  const peaks = trajectory.axes.flatMap((_, axis) =>
    // What nothing moves stands where it was put: that it stands near its end is no peak.
    trajectory.sources[axis] === "constant" ? [] : (peakOf(trajectory, axis, order, from, to) ?? []),
  );
  return highest(peaks);
}

/** The axis and rate that come nearest to their limit over a span of time, its range aside. */
export function worstShare(trajectory: Trajectory, from: number, to: number): Peak | undefined {
  return highest(
    trajectory.axes.flatMap((_, axis) =>
      ([1, 2, 3] as const).flatMap((order) => peakOf(trajectory, axis, order, from, to) ?? []),
    ),
  );
}

/** The one with the highest share; of equal ones the first. */
export function highest(peaks: readonly Peak[]): Peak | undefined {
  return peaks.reduce<Peak | undefined>(
    (worst, peak) => (!worst || peak.share > worst.share ? peak : worst),
    undefined,
  );
}

/** Where one axis, or any of all, comes nearest to any of its limits over the whole move; what stands still to no end of its range. */
export function worstLimit(trajectory: Trajectory, axis?: number): Peak | undefined {
  const axes = axis === undefined ? trajectory.axes.keys() : [axis];
  return highest(
    [...axes].flatMap((one) =>
      ([0, 1, 2, 3] as const).flatMap((order) =>
        order === 0 && trajectory.sources[one] === "constant" ? [] : (peakOf(trajectory, one, order) ?? []),
      ),
    ),
  );
}
