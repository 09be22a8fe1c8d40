import { breakpointsOf, derivativeAt, type BreakRoom } from "./breakpoints.ts";
import type { Extreme, Order, Violation } from "./trajectory.ts";

/** Share of a limit by which a value may lie beyond it before it counts: rounding only. */
const ROUNDING = 1e-12;
const MOST_HALVINGS = 60;

/**
 * Spans of time in which a derivative lies outside `low`..`high`, with the worst instant of each, in order of time. Between
 * breakpoints the derivative is monotone, so a span cannot hide between two of them, however short.
 */
export function outsideOf(room: BreakRoom, axis: number, order: Order, low: number, high: number): Violation[] {
  const above = beyond(room, axis, order, high, 1);
  const below = beyond(room, axis, order, low, -1);
  return [...above, ...below].sort((a, b) => a.from - b.from);
}

/** Spans in which the derivative is above (`sign` 1) or below (-1) a limit. */
function beyond(room: BreakRoom, axis: number, order: Order, limit: number, sign: 1 | -1): Violation[] {
  const { model } = room;
  const root = model.root[axis];
  const ratio = model.ratio[axis];
  const offset = order === 0 ? model.offset[axis] : 0;
  const { t, value, right, evidence } = breakpointsOf(room, root, order);
  const slack = Number.isFinite(limit) ? ROUNDING * Math.max(1, Math.abs(limit)) : 0;
  const ownValue = (raw: number): number => (ratio === 0 ? offset : ratio * raw + offset);
  const isBeyond = (own: number): boolean => slack < sign * (own - limit);
  /** Where it passes the limit between `a` and `b`; `first`: whether it is beyond at `a`. The inner side of the two. */
  const crossing = (a: number, b: number, first: boolean): number => {
    let [x, y] = [a, b];
    for (let round = 0; round < MOST_HALVINGS; round++) {
      const middle = x + (y - x) / 2;
      if (!(x < middle && middle < y)) break;
      if (isBeyond(ownValue(derivativeAt(room, root, order, middle, "right"))) === first) x = middle;
      else y = middle;
    }
    return first ? x : y;
  };
  const found: Violation[] = [];
  let from = 0;
  let worst: Extreme | undefined;
  for (let i = 0; i < t.length; i++) {
    const own = ownValue(value[i]);
    const begins = right[i] === 1;
    if (isBeyond(own)) {
      if (!worst) from = begins ? t[i] : crossing(t[i - 1], t[i], false);
      if (!worst || 0 < sign * (own - worst.value)) {
        worst = { t: t[i], value: own, side: begins ? "right" : "left", evidence: evidence[i] };
      }
    } else if (worst) {
      found.push({ from, to: begins ? t[i] : crossing(t[i - 1], t[i], true), worst });
      worst = undefined;
    }
  }
  if (worst) found.push({ from, to: t[t.length - 1], worst });
  return found;
}
