import { breakpointsOf, derivativeAt, type BreakRoom } from "./breakpoints.ts";
import type { Extreme, Order, Violation } from "./trajectory.ts";

/** Share of the band by which a value may lie outside before it counts: rounding only. */
const ROUNDING = 1e-12;

/**
 * Spans of time in which a derivative lies outside `low`..`high`, with the worst instant of each. Between breakpoints the
 * derivative is monotone, so a span cannot hide between two of them, however short.
 */
export function outsideOf(room: BreakRoom, axis: number, order: Order, low: number, high: number): Violation[] {
  const { model } = room;
  const root = model.root[axis];
  const ratio = model.ratio[axis];
  const offset = order === 0 ? model.offset[axis] : 0;
  const breaks = breakpointsOf(room, root, order);
  const slack =
    ROUNDING * Math.max(1, Number.isFinite(low) ? Math.abs(low) : 0, Number.isFinite(high) ? Math.abs(high) : 0);
  const valueOf = (raw: number): number => (ratio === 0 ? offset : ratio * raw + offset);
  /** How far outside: negative inside. */
  const beyond = (value: number): number => Math.max(low - value, value - high) - slack;
  const found: Violation[] = [];
  let from = NaN;
  let worst: Extreme | undefined;
  const close = (to: number): void => {
    if (worst) found.push({ from, to, worst });
    worst = undefined;
  };
  const crossing = (a: number, b: number): number => {
    // The value at `a` is outside and at `b` inside, or the other way round; halving finds where it passes.
    let [x, y] = [a, b];
    const outsideFirst = 0 < beyondAt(x, "right");
    for (let round = 0; round < 60 && x < y; round++) {
      const middle = x + (y - x) / 2;
      if (!(x < middle && middle < y)) break;
      if (0 < beyondAt(middle, "right") === outsideFirst) x = middle;
      else y = middle;
    }
    return outsideFirst ? x : y;
  };
  const beyondAt = (t: number, side: "left" | "right"): number =>
    beyond(valueOf(derivativeAt(room, root, order, t, side)));
  for (let i = 0; i < breaks.t.length; i++) {
    const t = breaks.t[i];
    const value = valueOf(breaks.value[i]);
    const out = beyond(value);
    if (0 < out) {
      if (!worst) from = i === 0 || breaks.right[i] === 1 ? t : crossing(breaks.t[i - 1], t);
      const side = breaks.right[i] === 1 ? "right" : "left";
      if (!worst || beyond(worst.value) < out) worst = { t, value, side, evidence: breaks.evidence[i] };
      continue;
    }
    if (worst) close(breaks.right[i] === 1 ? breaks.t[i - 1] : crossing(breaks.t[i - 1], t));
  }
  if (breaks.t.length > 0) close(breaks.t[breaks.t.length - 1]);
  return found;
}
