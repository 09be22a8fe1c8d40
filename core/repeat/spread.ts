import { erf, normalShare } from "./error-function.ts";

/** A normal distribution in the plane in its own directions: standard deviations, major >= minor >= 0, and its mean along both. */
export interface Spread {
  readonly major: number;
  readonly minor: number;
  /** Of the direction of the major one, against the first coordinate [rad]. */
  readonly angle: number;
  readonly along: number;
  readonly across: number;
}

/**
 * The spread of a sum of independent errors along fixed columns.
 *
 * @param columns   Shape (k, 2): how far one unit of each error moves the point.
 * @param variances Shape (k,): of each error, in its unit squared.
 * @param offset    Mean of the sum, shape (2,).
 */
export function spreadOf(
  columns: ArrayLike<number>,
  variances: ArrayLike<number>,
  offset: readonly [number, number] = [0, 0],
): Spread {
  let [xx, xy, yy] = [0, 0, 0];
  for (let k = 0; k < variances.length; k++) {
    const [x, y] = [columns[2 * k], columns[2 * k + 1]];
    xx += variances[k] * x * x;
    xy += variances[k] * x * y;
    yy += variances[k] * y * y;
  }
  const half = Math.hypot((xx - yy) / 2, xy);
  const large = (xx + yy) / 2 + half;
  // The product of both is the determinant: the difference of equal sums would lose the small one.
  const small = 0 < large ? Math.max(0, (xx * yy - xy * xy) / large) : 0;
  const turn = Math.atan2(2 * xy, xx - yy) / 2;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return {
    major: Math.sqrt(large),
    minor: Math.sqrt(Math.min(small, large)),
    angle: turn,
    along: c * offset[0] + s * offset[1],
    across: c * offset[1] - s * offset[0],
  };
}

/** Nodes of the sum in `shareWithin`. The integrand is smooth and periodic, or as good as 0 at both ends: the sum is exact to 1e-12. */
const NODES = 24;

/** So many standard deviations hold all of a normal distribution but 1e-15. */
const ALL = 8;

/**
 * Share of a distribution that lies within `radius` of the origin. With y = r sin u across and r cos u the half chord along:
 * ∫ φ((r sin u - across) / minor) / minor · [Φ((r cos u - along) / major) - Φ((-r cos u - along) / major)] r cos u du.
 */
export function shareWithin({ major, minor, along, across }: Spread, radius: number): number {
  if (!(0 < radius)) return 0;
  if (!(0 < major)) return Math.hypot(along, across) <= radius ? 1 : 0;
  const chord = (half: number): number =>
    along === 0
      ? erf(half / (major * Math.SQRT2))
      : normalShare((half - along) / major) - normalShare((-half - along) / major);
  // So thin a spread is a line to the last bit.
  if (minor < 1e-9 * major) return Math.abs(across) < radius ? chord(Math.sqrt(radius ** 2 - across ** 2)) : 0;
  const low = Math.asin(Math.max(-1, (across - ALL * minor) / radius));
  const high = Math.asin(Math.min(1, (across + ALL * minor) / radius));
  if (!(low < high)) return 0;
  const step = (high - low) / NODES;
  let sum = 0;
  for (let k = 0; k <= NODES; k++) {
    const u = low + k * step;
    const half = radius * Math.cos(u);
    const z = (radius * Math.sin(u) - across) / minor;
    const weight = k === 0 || k === NODES ? 0.5 : 1;
    sum += weight * Math.exp((-z * z) / 2) * half * chord(half);
  }
  return Math.min(1, (sum * step) / (minor * Math.sqrt(2 * Math.PI)));
}

/** Radius in units of one standard deviation that holds `share` of a round distribution: √(-2 ln(1 - share)). */
export const roundRadius = (share: number): number => Math.sqrt(-2 * Math.log(1 - share));

/**
 * Radius about the origin that holds `share` (0..1) of a distribution; 0 for one without spread and mean.
 *
 * @param slack Share of the whole by which what it holds may be off.
 */
export function radiusHolding(spread: Spread, share: number, slack = 1e-11): number {
  const off = Math.hypot(spread.along, spread.across);
  if (spread.major === 0 || Number.isNaN(spread.major)) return off + spread.major;
  // A circle through the mean lies on one side of a line through it, so it holds half at most.
  let [lo, hi] = [share < 0.5 ? 0 : off, off + roundRadius(share) * spread.major];
  if (off === 0 && spread.minor === spread.major) return hi;
  let below = shareWithin(spread, lo) - share;
  let above = shareWithin(spread, hi) - share;
  // Regula falsi; an end that stays twice counts half, so that both ends close in.
  let stayed: "lo" | "hi" | undefined;
  for (let step = 0; step < MOST_STEPS && 1e-10 * hi < hi - lo && above !== 0; step++) {
    const at = hi - (above * (hi - lo)) / (above - below);
    const value = shareWithin(spread, at) - share;
    if (Math.abs(value) < slack) return at;
    if (value < 0) {
      lo = at;
      below = value;
      if (stayed === "hi") above /= 2;
      stayed = "hi";
    } else {
      hi = at;
      above = value;
      if (stayed === "lo") below /= 2;
      stayed = "lo";
    }
  }
  return hi;
}

const MOST_STEPS = 100;

/** Chebyshev coefficients over minor / major of the radius that holds 95 % of a centred distribution, made with `radiusHolding`. */
const RADIUS_95 = [
  2.121949, 0.2337927, 0.08391801, 0.01162748, -0.002127288, -0.001845806, 9.873996e-5, 3.945995e-4, 2.841119e-5,
  -9.850773e-5, -1.640834e-5, 2.709169e-5,
] as const;

/** The radius that holds 95 % of a distribution about its own mean, to 3e-5 of it: for looking at many instants. */
export function quickRadius({ major, minor }: Pick<Spread, "major" | "minor">): number {
  if (major === 0) return 0;
  const x = (2 * minor) / major - 1;
  let first = 0;
  let second = 0;
  for (let k = RADIUS_95.length - 1; 0 < k; k--) {
    const next = 2 * x * first - second + RADIUS_95[k];
    second = first;
    first = next;
  }
  return major * (x * first - second + RADIUS_95[0]);
}

/** The same of a sum of independent errors, as for `spreadOf`; its columns begin at `columns[from]`. Allocates nothing. */
export function quickRadiusOf(columns: ArrayLike<number>, from: number, variances: ArrayLike<number>): number {
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (let k = 0; k < variances.length; k++) {
    const x = columns[from + 2 * k];
    const y = columns[from + 2 * k + 1];
    xx += variances[k] * x * x;
    xy += variances[k] * x * y;
    yy += variances[k] * y * y;
  }
  const half = (xx - yy) / 2;
  const large = (xx + yy) / 2 + Math.sqrt(half * half + xy * xy);
  if (large === 0) return 0;
  const small = Math.min(large, Math.max(0, (xx * yy - xy * xy) / large));
  return quickRadius({ major: Math.sqrt(large), minor: Math.sqrt(small) });
}
