import type { MoveAxis } from "../../core/motion/resolved-move.ts";
import type { OpenTake } from "./open-take.ts";

/** What an axis can be measured by; the derivative order is the index. */
export const ORDERS = ["position", "speed", "acceleration", "jerk"] as const;
export type OrderName = (typeof ORDERS)[number];

/** How much of its limits an axis uses: below, near, at the edge, over. Not by colour alone: the stage draws them thicker too. */
export const BANDS = ["calm", "busy", "near", "over"] as const;
export type Band = (typeof BANDS)[number];

/** Shares at which the next band begins. */
export const BAND_STARTS = [0, 0.6, 0.9, 1] as const;
/** Shares up to this much above 1 are rounding, not a broken limit. */
const ROUNDING = 1e-6;

export function bandOf(share: number): Band {
  if (Number.isNaN(share)) return "calm";
  if (share > BAND_STARTS[3] + ROUNDING) return "over";
  if (share >= BAND_STARTS[2]) return "near";
  return share >= BAND_STARTS[1] ? "busy" : "calm";
}

/** The limit of one order, SI; `undefined` when the rig states none. Position has a range instead. */
export function limitOf(axis: MoveAxis, order: number): number | undefined {
  return order === 1 ? axis.limits.speed : order === 2 ? axis.limits.accel : order === 3 ? axis.limits.jerk : undefined;
}

/** Table of one order: shape (n, a). */
export function tableOf(open: OpenTake, order: number): Float64Array {
  const { take } = open;
  return [take.value, take.speed, take.accel, take.jerk][order];
}

/** Share of the range used, 0 at its middle and 1 at an end; NaN without a range. */
export function rangeShare(axis: MoveAxis, value: number): number {
  if (axis.range === undefined) return NaN;
  const half = (axis.range.high - axis.range.low) / 2;
  const off = Math.abs(value - (axis.range.high + axis.range.low) / 2);
  return half > 0 ? off / half : off > 0 ? Infinity : 0;
}

/** Share of one limit used at sample `i`; NaN without a limit. */
export function limitShare(open: OpenTake, axis: number, order: number, i: number): number {
  const limit = limitOf(open.stage.axes[axis], order);
  const used = Math.abs(tableOf(open, order)[i * open.stage.axes.length + axis]);
  if (limit === undefined || Number.isNaN(used)) return NaN;
  return limit > 0 ? used / limit : used > 0 ? Infinity : 0;
}

/** Highest share of speed, acceleration and jerk of one axis at sample `i`; 0 when it has no limits. */
export function axisShare(open: OpenTake, axis: number, i: number): number {
  let most = 0;
  for (let order = 1; order <= 3; order++) {
    const share = limitShare(open, axis, order, i);
    if (share > most) most = share;
  }
  return most;
}

export interface Worst {
  readonly axis: number;
  readonly order: number;
  readonly share: number;
}

/** The axis and order that use most of a limit at sample `i`; `undefined` when no axis has a limit. */
export function worstAt(open: OpenTake, i: number): Worst | undefined {
  let worst: Worst | undefined;
  for (let axis = 0; axis < open.stage.axes.length; axis++) {
    for (let order = 1; order <= 3; order++) {
      const share = limitShare(open, axis, order, i);
      if (share >= 0 && (worst === undefined || share > worst.share)) worst = { axis, order, share };
    }
  }
  return worst;
}

/** Highest share of each axis over the whole take, shape (a,). */
export function peakShares(open: OpenTake): Float64Array {
  const peaks = new Float64Array(open.stage.axes.length);
  for (let axis = 0; axis < peaks.length; axis++) {
    for (let i = 0; i < open.take.count; i++) peaks[axis] = Math.max(peaks[axis], axisShare(open, axis, i));
  }
  return peaks;
}
