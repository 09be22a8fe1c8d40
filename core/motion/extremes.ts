import { breakpointsIn, derivativeAt, evidenceOf, exactValue, type BreakRoom, type Breakpoint } from "./breakpoints.ts";
import { boundsAt } from "./derivative-bounds.ts";
import { intervalAt } from "./tracks.ts";
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
  const { knots } = model.tracks;
  const root = model.root[axis];
  const ratio = model.ratio[axis];
  const offset = order === 0 ? model.offset[axis] : 0;
  const start = Math.min(Math.max(0, from), model.duration);
  const end = Math.min(Math.max(start, to), model.duration);
  const ownValue = (raw: number): number => (ratio === 0 ? offset : ratio * raw + offset);
  let low: Extreme | undefined;
  let high: Extreme | undefined;
  const offer = (t: number, value: number, side: Side, evidence: Extreme["evidence"]): void => {
    if (low === undefined || value < low.value) low = { t, value, side, evidence };
    if (high === undefined || high.value < value) high = { t, value, side, evidence };
  };
  const counts = (least: number, most: number): boolean =>
    low === undefined || high === undefined || least < low.value || high.value < most;
  const offerPoint = (point: Breakpoint): void => {
    if (point.t < start || end < point.t) return;
    // At the ends only the sides within count.
    if (start < end && point.t === (point.side === "left" ? start : end)) return;
    const rough = ownValue(point.value);
    const reach = Math.abs(ratio) * point.margin;
    if (reach === 0) offer(point.t, rough, point.side, point.evidence);
    else if (counts(rough - reach, rough + reach)) {
      offer(point.t, ownValue(exactValue(room, root, order, point)), point.side, point.evidence);
    }
  };
  const first = intervalAt(model.tracks, start, "right");
  const last = intervalAt(model.tracks, end, "left");
  const evidence = evidenceOf(model, root);
  const ends = (t: number, side: Side): number => ownValue(derivativeAt(room, root, order, t, side));
  offer(start, ends(start, start < end ? "right" : "left"), "right", evidence);
  for (let i = first; i <= last; i++) {
    const { bounds } = room.intervals[i];
    const at = boundsAt(room, i, root, order);
    const [a, b] = [ownValue(bounds[at]), ownValue(bounds[at + 1])];
    // An interval that cannot pass what is known by now has nothing to offer.
    if (counts(Math.min(a, b), Math.max(a, b))) breakpointsIn(room, i, root, order).forEach(offerPoint);
  }
  if (start < end && end < knots[knots.length - 1]) offer(end, ends(end, "left"), "left", evidence);
  return { low: low!, high: high! };
}
