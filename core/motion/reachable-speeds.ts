import type { Task } from "../base/task.ts";
import { createRates, type LimitedPath, type PathRates } from "./limited-path.ts";
import { lengthRate, measureLength, unitOf, type PathLength } from "./path-length.ts";

/**
 * The quickest way to run through a path from rest to rest inside the limits of speed and acceleration alone. Squared speed
 * of the length, b = (dσ/dt)², is straight over σ between two nodes.
 */
export interface ReachableSpeeds {
  readonly measure: PathLength;
  /** b at each node, shape (n + 1,). */
  readonly square: Float64Array;
  /** Time at each node [s], the first 0. */
  readonly times: Float64Array;
}

/** Half-planes |x · a + y · c| ≤ 1 of squared speeds x and y at the two ends of a stretch, and y's own bound. */
interface Stretch {
  readonly accel: readonly { readonly a: number; readonly c: number }[];
  /** (1 - λ) x + λ y ≤ cap: the limit of speed at the middle, λ its share of the stretch. */
  readonly share: number;
  readonly cap: number;
}

/** Squared speed above which no limit counts. */
const FREE = 1e30;
const MOST_ROUNDS = 100;

/**
 * Time-optimal parametrisation by reachability analysis (Pham and Pham, IEEE Transactions on Robotics 34(3), 2018): going
 * back, the squared speeds from which the end can still be reached; going forward, the highest of them. Accelerations are
 * asked for at the middle of each stretch, so the error falls with the square of its length.
 */
export function* reachableSpeeds(path: LimitedPath, nodes: Float64Array): Task<ReachableSpeeds> {
  const measure = yield* measureLength(path, nodes);
  const n = measure.nodes.length - 1;
  const stretches = Array.from({ length: n }, (_, i) => stretchOf(path, measure, i));
  const caps = nodeCaps(path, measure);
  yield;
  const most = new Float64Array(n + 1);
  most[n] = caps[n];
  for (let i = n - 1; 0 <= i; i--) most[i] = highestBefore(stretches[i], caps[i], most[i + 1]);
  const square = new Float64Array(n + 1);
  const times = new Float64Array(n + 1);
  square[0] = most[0];
  for (let i = 0; i < n; i++) {
    square[i + 1] = Math.max(0, bandOf(stretches[i], square[i], most[i + 1]).high.at);
    const span = measure.length[i + 1] - measure.length[i];
    const speed = Math.sqrt(square[i]) + Math.sqrt(square[i + 1]);
    times[i + 1] = times[i] + (0 < span ? (2 * span) / speed : 0);
  }
  return { measure, square, times };
}

/** dq/dσ and d²q/dσ² from the derivatives by the parameter, into `first` and `second` of `rates`. */
export function byLength(rates: PathRates, units: readonly number[]): void {
  const rate = lengthRate(rates, units);
  let growth = 0;
  for (let i = 0; i < units.length; i++) growth += (rates.first[i] / units[i]) * (rates.second[i] / units[i]);
  for (let i = 0; i < units.length; i++) {
    const direction = rates.first[i] / rate;
    // d²σ/du² = growth / rate.
    rates.second[i] = (rates.second[i] - (direction * growth) / rate) / (rate * rate);
    rates.first[i] = direction;
  }
}

function stretchOf(path: LimitedPath, { nodes, length, middle }: PathLength, i: number): Stretch {
  const span = length[i + 1] - length[i];
  const units = path.limits.map(unitOf);
  const rates = createRates(units.length);
  path.derive((nodes[i] + nodes[i + 1]) / 2, "right", rates);
  const rate = lengthRate(rates, units);
  if (!(0 < span && 0 < rate)) return { accel: [{ a: 1 / FREE, c: -1 / FREE }], share: 0.5, cap: FREE };
  byLength(rates, units);
  const share = (middle[i] - length[i]) / span;
  let cap = FREE;
  const accel: { a: number; c: number }[] = [];
  path.limits.forEach((limit, axis) => {
    const [d1, d2] = [rates.first[axis], rates.second[axis]];
    if (limit.speed !== undefined && d1 !== 0) cap = Math.min(cap, (limit.speed / d1) ** 2);
    // q̈ = q' (y - x) / (2 span) + q'' ((1 - share) x + share y)
    if (limit.accel === undefined) return;
    const a = (d2 * (1 - share) - d1 / (2 * span)) / limit.accel;
    const c = (d2 * share + d1 / (2 * span)) / limit.accel;
    accel.push({ a, c });
  });
  return { accel, share, cap };
}

/** Highest squared speed at each node that limits of speed alone allow; 0 at rests. */
function nodeCaps(path: LimitedPath, { nodes, rest }: PathLength): Float64Array {
  const units = path.limits.map(unitOf);
  const rates = createRates(units.length);
  return Float64Array.from(nodes, (u, i) => {
    if (rest[i] === 1) return 0;
    path.derive(u, "right", rates);
    const rate = lengthRate(rates, units);
    let cap = FREE;
    path.limits.forEach((limit, axis) => {
      const d1 = rates.first[axis] / rate;
      if (limit.speed !== undefined && d1 !== 0) cap = Math.min(cap, (limit.speed / d1) ** 2);
    });
    return cap;
  });
}

/** A bound of y as a straight line over x, and its value at the x asked for. */
interface Line {
  readonly at: number;
  readonly slope: number;
}

/** Lowest and highest y (at most `most`) that a stretch allows after x. */
function bandOf({ accel, share, cap }: Stretch, x: number, most: number): { readonly low: Line; readonly high: Line } {
  let low: Line = { at: 0, slope: 0 };
  let high: Line = { at: most, slope: 0 };
  const atMiddle = { at: (cap - (1 - share) * x) / share, slope: -(1 - share) / share };
  if (atMiddle.at < high.at) high = atMiddle;
  for (const { a, c } of accel) {
    if (c === 0) continue;
    const slope = -a / c;
    const half = 1 / Math.abs(c);
    if (slope * x + half < high.at) high = { at: slope * x + half, slope };
    if (low.at < slope * x - half) low = { at: slope * x - half, slope };
  }
  return { low, high };
}

/**
 * Highest x, at most `cap`, from which some y of 0..`most` can be reached. The room for y is a concave function of x that is
 * not negative at 0, so Newton's method from the right ends on its root.
 */
function highestBefore(stretch: Stretch, cap: number, most: number): number {
  let x = cap;
  for (const { a, c } of stretch.accel) if (c === 0 && a !== 0) x = Math.min(x, 1 / Math.abs(a));
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const { low, high } = bandOf(stretch, x, most);
    const room = high.at - low.at;
    const slope = high.slope - low.slope;
    if (0 <= room || !(slope < 0)) break;
    const next = Math.max(0, x - room / slope);
    if (!(next < x)) break;
    x = next;
  }
  return x;
}
