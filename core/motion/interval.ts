import type { Breakpoint } from "./breakpoints.ts";

/**
 * One interval of the time line, with what was found out about it. Equal intervals of two plans of a move are one such
 * object, so what is found for one is known for the other; it is the intervals' own, and goes when they go.
 */
export interface Interval {
  /** Bounds of each derivative of each axis, shape (axes, 4 orders, 2: low and high); NaN until asked for. */
  readonly bounds: Float64Array;
  /** Breakpoints by axis · 4 + order, once asked for. */
  readonly breakpoints: Map<number, readonly Breakpoint[]>;
}

export function createInterval(axes: number): Interval {
  return { bounds: new Float64Array(8 * axes).fill(NaN), breakpoints: new Map() };
}
