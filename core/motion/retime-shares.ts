import type { Task } from "../base/task.ts";
import type { AxisIndex } from "./resolved-move.ts";
import type { Extreme, Order, Side, Trajectory } from "./trajectory.ts";

/** Orders that axes have limits of: 1 speed, 2 acceleration, 3 jerk. */
export type LimitOrder = Exclude<Order, 0>;
export const LIMIT_NAMES = { 1: "speed", 2: "accel", 3: "jerk" } as const;
export const LIMIT_ORDERS: readonly LimitOrder[] = [1, 2, 3];

/** How much of one limit of one axis is used at most, and when. */
export interface LimitShare {
  readonly axis: AxisIndex;
  readonly order: LimitOrder;
  /** Of the limit; 1 is at it, Infinity for a rate without bound. */
  readonly share: number;
  /** By which factor time would have to be stretched for this limit alone: the share's root of its order. */
  readonly need: number;
  /** When [s]. */
  readonly t: number;
  readonly side: Side;
  readonly evidence: Extreme["evidence"];
}

/** A limit that an axis of a move states. SI. */
export interface StatedLimit {
  readonly axis: AxisIndex;
  readonly order: LimitOrder;
  readonly most: number;
}

/** Every limit of every axis that moves: driven, solved, following, and turntables. */
export function statedLimits({ axes, sources }: Pick<Trajectory, "axes" | "sources">): StatedLimit[] {
  return axes.flatMap(({ limits }, axis) => {
    if (sources[axis] === "constant") return [];
    return LIMIT_ORDERS.flatMap((order): StatedLimit[] => {
      const most = limits[LIMIT_NAMES[order]];
      return most === undefined ? [] : [{ axis, order, most }];
    });
  });
}

/** The largest share of one limit over `from`..`to` [s], both ends included. */
export function shareOf(
  trajectory: Pick<Trajectory, "extremes">,
  { axis, order, most }: StatedLimit,
  from?: number,
  to?: number,
): LimitShare {
  const { low, high } = trajectory.extremes(axis, order, from, to);
  const worst = Math.abs(low.value) > Math.abs(high.value) ? low : high;
  const rate = Math.abs(worst.value);
  // Without motion no limit is used, one of 0 neither.
  const share = rate === 0 ? 0 : rate / most;
  return { axis, order, share, need: share ** (1 / order), t: worst.t, side: worst.side, evidence: worst.evidence };
}

/** A limit is kept up to what rounding makes of a rate that is at it exactly. */
const ROUNDING = 1e-12;
export const isKept = ({ share }: LimitShare): boolean => share <= 1 + ROUNDING;

/** The share of every stated limit over the whole move. */
export function* limitShares(trajectory: Trajectory): Task<readonly LimitShare[]> {
  const shares: LimitShare[] = [];
  for (const limit of statedLimits(trajectory)) {
    shares.push(shareOf(trajectory, limit));
    yield;
  }
  return shares;
}

/** The one that asks for the most time; the first of equal ones. `undefined` of none. */
export function neediest(shares: readonly LimitShare[]): LimitShare | undefined {
  return shares.reduce<LimitShare | undefined>((most, one) => (most && one.need <= most.need ? most : one), undefined);
}

/** Of each axis the limit that asks for the most time, in the order of the axes. */
export function bindingByAxis(shares: readonly LimitShare[]): LimitShare[] {
  const axes = [...new Set(shares.map(({ axis }) => axis))].sort((a, b) => a - b);
  return axes.flatMap((axis) => neediest(shares.filter((one) => one.axis === axis)) ?? []);
}
