import type { Task } from "../base/task.ts";
import type { AxisLimits } from "../rig/resolved-rig.ts";
import { createRates, type LimitedPath, type PathRates } from "./limited-path.ts";
import type { Side } from "./trajectory.ts";

/**
 * The length σ of a path through the space of its limited axes, each measured in what its limits let it do: one unit is the
 * least of speed · 1 s, acceleration · 1 s² and jerk · 1 s³. Free axes add nothing.
 */
export interface PathLength {
  /** Ascending, shape (n + 1,): the nodes asked for, and places where the path turns back upon itself. */
  readonly nodes: Float64Array;
  /** σ at each node, the first 0. */
  readonly length: Float64Array;
  /** σ at the middle (in the parameter) of each stretch, shape (n,). */
  readonly middle: Float64Array;
  /** 1 where the path stands or turns back, so that it can only be passed at rest: its ends, cusps. Shape (n + 1,). */
  readonly rest: Uint8Array;
}

/** Share of the greatest rate below which a path stands. */
const STANDS = 1e-7;
const HALVINGS = 60;
/** Stretches between two yields. */
const SLICE = 32;

/** What one unit of length is on an axis, in its own unit; Infinity for a free one. */
export function unitOf(limits: AxisLimits): number {
  return Math.min(limits.speed ?? Infinity, limits.accel ?? Infinity, limits.jerk ?? Infinity);
}

/** Measures a path over `nodes`; its ends count as rests. */
export function* measureLength(path: LimitedPath, nodes: Float64Array): Task<PathLength> {
  const units = path.limits.map(unitOf);
  const rates = createRates(path.limits.length);
  const rateAt = (u: number, side: Side): number => {
    path.derive(u, side, rates);
    return lengthRate(rates, units);
  };
  const cusps = yield* findCusps(path, nodes, units);
  const all = Float64Array.from([...nodes, ...cusps].sort((a, b) => a - b));
  const n = all.length - 1;
  const length = new Float64Array(n + 1);
  const middle = new Float64Array(n);
  const rest = new Uint8Array(n + 1);
  const at = Float64Array.from(all, (u, i) => rateAt(u, i === n ? "left" : "right"));
  const most = at.reduce((a, b) => Math.max(a, b), 0);
  for (let i = 0; i < n; i++) {
    const h = all[i + 1] - all[i];
    const between = rateAt((all[i] + all[i + 1]) / 2, "right");
    // The parabola through the three rates, over half of the stretch and over all of it (Simpson's rule).
    middle[i] = length[i] + Math.max(0, (h / 24) * (5 * at[i] + 8 * between - at[i + 1]));
    length[i + 1] = Math.max(middle[i], length[i] + (h / 6) * (at[i] + 4 * between + at[i + 1]));
    if (i % SLICE === 0) yield;
  }
  for (let i = 0; i <= n; i++) rest[i] = i === 0 || i === n || at[i] <= STANDS * most ? 1 : 0;
  return { nodes: all, length, middle, rest };
}

/** dσ/du. */
export function lengthRate(rates: PathRates, units: readonly number[]): number {
  let square = 0;
  for (let i = 0; i < units.length; i++) square += (rates.first[i] / units[i]) ** 2;
  return Math.sqrt(square);
}

/** Places between neighbouring nodes where all axes turn back at once. */
function* findCusps(path: LimitedPath, nodes: Float64Array, units: readonly number[]): Task<number[]> {
  const rates = createRates(path.limits.length);
  const direction = (u: number): Float64Array => {
    path.derive(u, "right", rates);
    return rates.first.map((rate, i) => rate / units[i]);
  };
  const cusps: number[] = [];
  let most = 0;
  let before = direction(nodes[0]);
  for (let i = 0; i + 1 < nodes.length; i++) {
    const after = direction(nodes[i + 1]);
    most = Math.max(most, norm(after));
    if (along(before, after) < 0) {
      let [low, high] = [nodes[i], nodes[i + 1]];
      for (let k = 0; k < HALVINGS; k++) {
        const middle = (low + high) / 2;
        if (along(before, direction(middle)) < 0) high = middle;
        else low = middle;
      }
      const least = Math.min(norm(direction(low)), norm(direction(high)));
      if (least <= STANDS * most && nodes[i] < low && high < nodes[i + 1]) cusps.push(low);
    }
    before = after;
    if (i % SLICE === 0) yield;
  }
  return cusps;
}

function along(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, x, i) => sum + x * b[i], 0);
}

function norm(a: Float64Array): number {
  return Math.sqrt(along(a, a));
}
