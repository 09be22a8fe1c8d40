import { breakpointsIn, derivativeAt, exactValue, type BreakRoom } from "./breakpoints.ts";
import { crossingTime } from "./crossing.ts";
import { boundsAt } from "./derivative-bounds.ts";
import type { Extreme, Order, Side, Violation } from "./trajectory.ts";

/** Share of a limit by which a value may lie beyond it before it counts: rounding only. */
const ROUNDING = 1e-12;

/**
 * Spans of time in which a derivative lies outside `low`..`high`, with the worst instant of each, in order of time. Between
 * breakpoints the derivative is monotone, so a span cannot hide between two of them, however short.
 */
export function outsideOf(room: BreakRoom, axis: number, order: Order, low: number, high: number): Violation[] {
  const above = beyond(room, axis, order, high, 1);
  const below = beyond(room, axis, order, low, -1);
  return [...above, ...below].sort((a, b) => a.from - b.from);
}

/** After so many spans of one axis the ends of further ones are those of the monotone stretches that hold them. */
const MOST_EXACT = 250;

/** Spans in which the derivative is above (`sign` 1) or below (-1) a limit. */
function beyond(room: BreakRoom, axis: number, order: Order, limit: number, sign: 1 | -1): Violation[] {
  const { model, intervals } = room;
  const root = model.root[axis];
  const ratio = model.ratio[axis];
  const offset = order === 0 ? model.offset[axis] : 0;
  const slack = Number.isFinite(limit) ? ROUNDING * Math.max(1, Math.abs(limit)) : 0;
  const ownValue = (raw: number): number => (ratio === 0 ? offset : ratio * raw + offset);
  const isBeyond = (own: number): boolean => slack < sign * (own - limit);
  const found: Violation[] = [];
  /** Where it passes the limit between `a` and `b`; `first`: whether it is beyond at `a`. The inner side of the two. */
  const crossing = (a: number, b: number, first: boolean): number => {
    if (MOST_EXACT <= found.length) return first ? b : a;
    const side = (t: number): Side => (t === b ? "left" : "right");
    const past = (t: number): number => sign * (ownValue(derivativeAt(room, root, order, t, side(t))) - limit) - slack;
    return crossingTime(past, a, b, first);
  };
  let from = 0;
  let worst: Extreme | undefined;
  let end = 0;
  for (let i = 0; i < intervals.length; i++) {
    const { bounds } = intervals[i];
    const at = boundsAt(room, i, root, order);
    const passes = isBeyond(ownValue(bounds[at])) || isBeyond(ownValue(bounds[at + 1]));
    // Where it cannot pass the limit there is nothing to find but the end of a span that was open.
    if (!passes && !worst) continue;
    const points = breakpointsIn(room, i, root, order);
    for (let k = 0; k < points.length; k++) {
      const point = points[k];
      const reach = Math.abs(ratio) * point.margin;
      const counts = isBeyond(ownValue(point.value) + sign * reach);
      const own = ownValue(counts ? exactValue(room, root, order, point) : point.value);
      const { t, side, evidence } = point;
      const begins = side === "right";
      if (isBeyond(own)) {
        if (!worst) from = begins ? t : crossing(points[k - 1].t, t, false);
        if (!worst || 0 < sign * (own - worst.value)) worst = { t, value: own, side, evidence };
      } else if (worst) {
        found.push({ from, to: begins ? t : crossing(points[k - 1].t, t, true), worst });
        worst = undefined;
      }
      end = t;
    }
  }
  if (worst) found.push({ from, to: end, worst });
  return found;
}
