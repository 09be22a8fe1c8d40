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

/** A path over another parameter w of 0..1, and the parameter that it came from. */
export interface TurnedPath extends LimitedPath {
  /** The first parameter at `w`. */
  plain(w: number): number;
}

/** Share of the parameter at each end within which a quick start is not told more closely. */
const EDGE = 1e-9;

/**
 * A path from rest to rest over a parameter w of 0..1 in which it begins and ends as constant acceleration (`order` 2) or
 * constant speed (1) does, for axes without limits of higher order: its own parameter goes with w^(order / 3) at both ends,
 * as (w / (1 - w))^(order / 3) = x / (1 - x) for the share x of it. The third derivatives are not computed (0).
 */
export function quickStartPath(path: LimitedPath, order: 1 | 2): TurnedPath {
  const power = order / 3;
  const start = path.knots[0];
  const length = path.knots[path.knots.length - 1] - start;
  const shareOf = (w: number): number => 1 / (1 + ((1 - w) / w) ** power);
  const back = (x: number): number => 1 / (1 + ((1 - x) / x) ** (1 / power));
  const knots = path.knots.map((knot) => back((knot - start) / length));
  return {
    limits: path.limits,
    knots,
    plain(w) {
      const at = knots.indexOf(w);
      return at < 0 ? start + length * shareOf(w) : path.knots[at];
    },
    derive(u, side, out) {
      const w = Math.min(Math.max(u, EDGE), 1 - EDGE);
      path.derive(u === w ? this.plain(w) : start + length * shareOf(w), side, out);
      const x = shareOf(w);
      const w1 = (power * x * (1 - x)) / (w * (1 - w));
      const w2 = w1 * (((1 - 2 * x) * w1) / (x * (1 - x)) - (1 - 2 * w) / (w * (1 - w)));
      for (let i = 0; i < path.limits.length; i++) {
        out.second[i] = out.second[i] * (length * w1) ** 2 + out.first[i] * length * w2;
        out.first[i] *= length * w1;
        out.third[i] = 0;
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
