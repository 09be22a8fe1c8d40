import { breakpointsOf, derivativeAt, type BreakRoom } from "./breakpoints.ts";
import { isFollowed } from "./move-model.ts";
import type { Extreme, Order, Side } from "./trajectory.ts";

/**
 * Lowest and highest value of a derivative over `from`..`to` [s], both sides of knots. Times beyond the move are cut off;
 * of equal extremes the earliest is given.
 */
export function extremesOf(
  room: BreakRoom,
  axis: number,
  order: Order,
  from: number,
  to: number,
): { readonly low: Extreme; readonly high: Extreme } {
  const { model } = room;
  const root = model.root[axis];
  const ratio = model.ratio[axis];
  const offset = order === 0 ? model.offset[axis] : 0;
  const breaks = breakpointsOf(room, root, order);
  const start = Math.min(Math.max(0, from), model.duration);
  const end = Math.min(Math.max(start, to), model.duration);
  let low: Extreme | undefined;
  let high: Extreme | undefined;
  const offer = (t: number, raw: number, side: Side, evidence: Extreme["evidence"]): void => {
    const value = ratio === 0 ? offset : ratio * raw + offset;
    if (low === undefined || value < low.value) low = { t, value, side, evidence };
    if (high === undefined || high.value < value) high = { t, value, side, evidence };
  };
  const evidence = isFollowed(model, root) ? "bracketed" : "exact";
  offer(start, derivativeAt(room, root, order, start, start < end ? "right" : "left"), "right", evidence);
  for (let i = firstAfter(breaks.t, start); i < breaks.t.length && breaks.t[i] <= end; i++) {
    const right = breaks.right[i] === 1;
    // At the ends only the sides within count.
    if ((breaks.t[i] === start && !right && start < end) || (breaks.t[i] === end && right && start < end)) continue;
    offer(breaks.t[i], breaks.value[i], right ? "right" : "left", breaks.evidence[i]);
  }
  if (start < end) offer(end, derivativeAt(room, root, order, end, "left"), "left", evidence);
  return { low: low!, high: high! };
}

/** Index of the first entry at or after `t`. */
function firstAfter(times: Float64Array, t: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle] < t) low = middle + 1;
    else high = middle;
  }
  return low;
}
