import type { AxisLimits } from "../rig/resolved-rig.ts";
import type { Side } from "./trajectory.ts";

/** Derivatives of all axes by the parameter of their path, orders 1 to 3, each of shape (axes,). */
export interface PathRates {
  readonly first: Float64Array;
  readonly second: Float64Array;
  readonly third: Float64Array;
}

/**
 * The way that axes go together, whatever the time: values over a parameter u. First and second derivatives are continuous
 * but where all axes rest; the third may step at knots.
 */
export interface LimitedPath {
  /** One an axis; an absent limit leaves the axis free. */
  readonly limits: readonly AxisLimits[];
  /** Ascending, the first where the path begins and the last where it ends. */
  readonly knots: readonly number[];
  /** Writes the derivatives at `u`, at a knot those on `side`. */
  derive(u: number, side: Side, out: PathRates): void;
}

export function createRates(axes: number): PathRates {
  return { first: new Float64Array(axes), second: new Float64Array(axes), third: new Float64Array(axes) };
}

/** Halvings that bring a parameter down to rounding. */
const HALVINGS = 60;

/**
 * The same path over a parameter from 0 to 1 in which first and second derivatives vanish at both ends, as they do for any
 * motion from rest to rest: u ↦ start + length · (10 u³ - 15 u⁴ + 6 u⁵).
 */
export function restedPath(path: LimitedPath): LimitedPath {
  const start = path.knots[0];
  const length = path.knots[path.knots.length - 1] - start;
  const inner = path.knots.slice(1, -1).map((knot) => atShare((knot - start) / length));
  const last = path.knots.length - 1;
  return {
    limits: path.limits,
    knots: [0, ...inner, 1],
    derive(u, side, out) {
      const near = [0, ...inner, 1].indexOf(u);
      const at = near < 0 ? start + length * shareAt(u) : path.knots[near === 0 ? 0 : near === last ? last : near];
      path.derive(at, side, out);
      const w1 = length * 30 * (u * (1 - u)) ** 2;
      const w2 = length * 60 * u * (1 - u) * (1 - 2 * u);
      const w3 = length * 60 * (1 - 6 * u * (1 - u));
      for (let i = 0; i < path.limits.length; i++) {
        const [d1, d2, d3] = [out.first[i], out.second[i], out.third[i]];
        out.first[i] = d1 * w1;
        out.second[i] = d2 * w1 * w1 + d1 * w2;
        out.third[i] = d3 * w1 ** 3 + 3 * d2 * w1 * w2 + d1 * w3;
      }
    },
  };
}

function shareAt(u: number): number {
  return u * u * u * (10 + u * (6 * u - 15));
}

function atShare(share: number): number {
  let [low, high] = [0, 1];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (shareAt(middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
