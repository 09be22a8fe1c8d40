import type { Task } from "../base/task.ts";
import { createRates, type LimitedPath, type PathRates } from "./limited-path.ts";
import { BASIS, writeSquare, type SquaredSpeed } from "./squared-speed.ts";

export interface SpeedLimits {
  /** Factor by which all must be slowed down for every limit to be met, or can be sped up (below 1). */
  readonly factor: number;
  /** The same of each stretch, shape (n,). */
  readonly worst: Float64Array;
  /** Time spent at each limit [s], shape (axes, 3): speed, acceleration, jerk. */
  readonly bound: Float64Array;
}

/** Places of a stretch that are looked at, its ends among them. */
const LOOKED = 8;
/** Shares of the limits of speed, acceleration and jerk from which an axis is at them; higher orders are held less evenly. */
const BINDS = [0.995, 0.985, 0.95] as const;
/** Stretches between two yields. */
const SLICE = 8;
/** A peak between two places counts when it is higher than all that was seen by more than this share. */
const HIGHER = 1e-5;

/** Looks at every axis closely along a path that is run through, on both sides of each node, and at peaks in between. */
export function* speedLimits(path: LimitedPath, speed: SquaredSpeed): Task<SpeedLimits> {
  const size = 3 * path.limits.length;
  const look = lookAlong(path, speed);
  const bound = new Float64Array(size);
  const seen = Array.from({ length: LOOKED + 1 }, () => new Float64Array(size));
  const between = new Float64Array(size);
  const worst = new Float64Array(speed.nodes.length - 1);
  let factor = 0;
  const offer = (stretch: number, shares: Float64Array): void => {
    for (let i = 0; i < size; i++) worst[stretch] = Math.max(worst[stretch], slowing(shares[i], i));
    factor = Math.max(factor, worst[stretch]);
  };
  for (let i = 0; i + 1 < speed.nodes.length; i++) {
    for (let k = 0; k <= LOOKED; k++) {
      const passed = look(i, k / LOOKED, seen[k]) * (k === 0 || k === LOOKED ? 0.5 : 1);
      for (let j = 0; j < size; j++) if (BINDS[j % 3] <= seen[k][j]) bound[j] += passed / LOOKED;
      offer(i, seen[k]);
    }
    for (let k = 1; k < LOOKED; k++) {
      for (let j = 0; j < size; j++) {
        const [a, b, c] = [seen[k - 1][j], seen[k][j], seen[k + 1][j]];
        const bend = 2 * b - a - c;
        if (b < a || b < c || !(0 < bend) || !(worst[i] * (1 + HIGHER) < slowing(b + (c - a) ** 2 / (8 * bend), j)))
          continue;
        look(i, (k + (c - a) / (2 * bend)) / LOOKED, between);
        offer(i, between);
      }
    }
    if (i % SLICE === 0) yield;
  }
  return { factor, worst, bound };
}

/** What slowing down by a factor takes down to 1: speeds with its first, accelerations and jerks with higher powers. */
function slowing(share: number, index: number): number {
  return index % 3 === 0 ? share : index % 3 === 1 ? Math.sqrt(share) : Math.cbrt(share);
}

/**
 * Looks at the share `s` of a stretch: writes shares of limits, shape (axes, 3), 0 where there is none, and gives the time
 * that the stretch would take at the speed there [s].
 */
function lookAlong(path: LimitedPath, speed: SquaredSpeed): (stretch: number, s: number, out: Float64Array) => number {
  const rates = createRates(path.limits.length);
  const square = new Float64Array(3);
  const basis = new Float64Array(BASIS);
  const { nodes } = speed;
  return (stretch, s, out) => {
    const h = nodes[stretch + 1] - nodes[stretch];
    writeSquare(speed, stretch, s, basis, square);
    path.derive(s === 1 ? nodes[stretch + 1] : nodes[stretch] + h * s, s === 1 ? "left" : "right", rates);
    for (let axis = 0; axis < path.limits.length; axis++) writeShares(path, axis, rates, square, out);
    return h / Math.sqrt(square[0]);
  };
}

function writeShares(path: LimitedPath, axis: number, rates: PathRates, square: Float64Array, out: Float64Array): void {
  const { speed, accel, jerk } = path.limits[axis];
  const [d1, d2, d3] = [rates.first[axis], rates.second[axis], rates.third[axis]];
  const [b, b1, b2] = square;
  const root = Math.sqrt(b);
  out[3 * axis] = shareOf(d1 * root, speed);
  out[3 * axis + 1] = shareOf(d2 * b + (d1 * b1) / 2, accel);
  out[3 * axis + 2] = shareOf(root * (d3 * b + 1.5 * d2 * b1 + (d1 * b2) / 2), jerk);
}

function shareOf(value: number, limit: number | undefined): number {
  return limit === undefined ? 0 : Math.abs(value) / limit;
}
