import type { EndState } from "./quintic.ts";

/** Handles of the curve as CSS Easing Functions Level 1 writes them: (x1, y1) from the start, (x2, y2) from the end. */
export type Handles = readonly [number, number, number, number];

/** More would let the curve stand upright in its middle, where no speed is finite. Pinned by `ease-shape.test.ts`. */
export const MOST_BACKWARD = 0.999;

/** Beyond its end points a share of the way has no meaning, and a curve that is given no number goes straight. */
export function usableHandles([x1, y1, x2, y2]: Handles): Handles {
  const share = (x: number, otherwise: number): number =>
    Number.isFinite(x) ? Math.min(Math.max(x, 0), 1) : otherwise;
  const height = (y: number, otherwise: number): number =>
    Number.isFinite(y) ? Math.min(Math.max(y, -1e3), 1e3) : otherwise;
  const [first, second] = [share(x1, 1 / 3), share(x2, 2 / 3)];
  const excess = Math.max(0, first - second - MOST_BACKWARD) / 2;
  return [first - excess, height(y1, 1 / 3), second + excess, height(y2, 2 / 3)];
}

/**
 * The cubic Bézier curve from (0, 0) to (1, 1) as y over x: value, slope and curvature d²y/dx² at `x`.
 *
 * @param x Within 0..1. At the ends themselves the slope of an upright handle is not finite: ask within.
 */
export function bezierAt(handles: Handles, x: number): EndState {
  const [x1, y1, x2, y2] = handles;
  const p = parameterAt(x1, x2, x);
  const dx = firstDerivative(x1, x2, p);
  const dy = firstDerivative(y1, y2, p);
  const bend = secondDerivative(y1, y2, p) * dx - secondDerivative(x1, x2, p) * dy;
  return { value: coordinate(y1, y2, p), speed: dy / dx, accel: bend / dx ** 3 };
}

/** The parameter at which the curve is at `x`: Newton's method, kept within a bracket that bisection shrinks. */
function parameterAt(x1: number, x2: number, x: number): number {
  let [low, high] = [0, 1];
  let p = x;
  for (let step = 0; step < 80 && low < high; step++) {
    const off = coordinate(x1, x2, p) - x;
    if (off === 0) return p;
    if (off < 0) low = p;
    else high = p;
    const newton = p - off / firstDerivative(x1, x2, p);
    const next = low < newton && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - p) <= 1e-17 + 1e-16 * p) return next;
    p = next;
  }
  return p;
}

const coordinate = (a: number, b: number, p: number): number => p * (3 * (1 - p) * ((1 - p) * a + p * b) + p * p);

const firstDerivative = (a: number, b: number, p: number): number =>
  3 * ((1 - p) * ((1 - p) * a + 2 * p * (b - a)) + p * p * (1 - b));

const secondDerivative = (a: number, b: number, p: number): number => 6 * ((1 - p) * (b - 2 * a) + p * (1 - 2 * b + a));
