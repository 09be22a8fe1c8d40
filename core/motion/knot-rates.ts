import { solveBlockChain } from "./block-chain.ts";
import { leastInPolygon, type HalfPlane } from "./least-in-polygon.ts";

/** Speed and acceleration at each knot, shape (n,). */
export interface KnotRates {
  readonly speed: Float64Array;
  readonly accel: Float64Array;
}

/** Sweeps end when no knot moves by more than this share of its scale: no one sees less. */
const SETTLED = 1e-5;
const MOST_SWEEPS = 60;
/** How often the room of each piece is dealt out anew between its ends. */
const DEALS = 3;

/**
 * Chooses speed and acceleration at the knots of a piecewise quintic: the curve of least squared jerk among those that
 * stay monotone between neighbouring knots.
 *
 * The derivative of a quintic piece is a quartic; in Bernstein form over the piece, of length h and rise d, it is
 * v0, v0 + a0 h/4, 5 d/h - (the others), v1 - a1 h/4, v1. The piece is monotone when none of these has the wrong sign.
 * The middle one couples both ends: the left uses 2 v0 + a0 h/4 of 5 d/h, the right 2 v1 - a1 h/4. Each end gets a share,
 * so that each knot has a polygon of its own for (speed, acceleration), and sweeping over the knots converges; then what
 * an end has left over is dealt out anew. Where nothing binds, the free least-jerk curve is found at once.
 *
 * @param times  Ascending, shape (n,) [s].
 * @param values Shape (n,).
 * @param fixed  Knots whose rates are given and stay; both ends must be.
 * @param rates  In: rates of the fixed knots. Out: all rates. Where the data turn the speed is 0; beside equal
 *               neighbours speed and acceleration are 0.
 */
export function chooseKnotRates(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  fixed: readonly boolean[],
  rates: KnotRates,
): void {
  const still = Array.from(fixed, (given, i) => given || isFlat(values, i));
  const free: number[] = [];
  for (let i = 1; i + 1 < values.length; i++) if (!still[i]) free.push(i);
  if (free.length === 0) return;
  const rooms = firstRooms(values, still);
  solveFree(times, values, free, rates);
  for (let deal = 0; deal < DEALS; deal++) {
    const polygons = free.map((i) => polygonOf(times, values, rooms, i));
    sweep(times, values, rates, free, polygons);
    if (!dealAnew(times, values, rates, rooms)) return;
  }
}

function isFlat(values: ArrayLike<number>, i: number): boolean {
  return values[i] === values[i - 1] || values[i] === values[i + 1];
}

/** What both ends of each piece may use, in rises of the piece, shape (pieces, 2): 5 in all. */
function firstRooms(values: ArrayLike<number>, still: readonly boolean[]): Float64Array {
  const rooms = new Float64Array(2 * (values.length - 1)).fill(2.5);
  for (let i = 0; i + 1 < values.length; i++) {
    if (still[i]) rooms[2 * i + 1] = 5;
    if (still[i + 1]) rooms[2 * i] = 5;
  }
  return rooms;
}

/** Gives each end what it uses and half of what is left. Returns false when no end had reached its room. */
function dealAnew(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  { speed, accel }: KnotRates,
  rooms: Float64Array,
): boolean {
  let bound = false;
  for (let i = 0; i + 1 < values.length; i++) {
    const h = times[i + 1] - times[i];
    const rise = values[i + 1] - values[i];
    if (rise === 0 || rooms[2 * i] === 5 || rooms[2 * i + 1] === 5) continue;
    const left = (2 * speed[i] * h + (accel[i] * h * h) / 4) / rise;
    const right = (2 * speed[i + 1] * h - (accel[i + 1] * h * h) / 4) / rise;
    const spare = 5 - left - right;
    if (spare < 1e-3) continue;
    bound ||= rooms[2 * i] - left < 1e-9 || rooms[2 * i + 1] - right < 1e-9;
    rooms[2 * i] = left + spare / 2;
    rooms[2 * i + 1] = right + spare / 2;
  }
  return bound;
}

/** In the knot's own units: x = speed · H, y = acceleration · H², H the mean length of both pieces. */
function polygonOf(times: ArrayLike<number>, values: ArrayLike<number>, rooms: Float64Array, i: number): HalfPlane[] {
  const left = times[i] - times[i - 1];
  const right = times[i + 1] - times[i];
  const mean = (left + right) / 2;
  const up = Math.sign(values[i] - values[i - 1]);
  const on = Math.sign(values[i + 1] - values[i]);
  const l = left / mean / 4;
  const r = right / mean / 4;
  const planes = [
    { a: -up, b: 0, limit: 0 },
    { a: -up, b: up * l, limit: 0 },
    { a: 2 * up, b: -up * l, limit: (rooms[2 * i - 1] * Math.abs(values[i] - values[i - 1])) / (left / mean) },
    { a: -on, b: -on * r, limit: 0 },
    { a: 2 * on, b: on * r, limit: (rooms[2 * i] * Math.abs(values[i + 1] - values[i])) / (right / mean) },
  ];
  // Where the data turn, -x <= 0 and x <= 0 leave x = 0.
  if (on !== up) planes.push({ a: -on, b: 0, limit: 0 });
  return planes;
}

/*
 * Squared jerk of a piece of length 1 with p = d - v0 - a0/2, v = v1 - v0 - a0, a = a1 - a0 is
 * 720 p² - 720 p v + 192 v² + 120 p a - 72 v a + 9 a²; a piece of length h has v h, a h² in their place and 1/h⁵ before
 * it. Below, its first and second derivatives by the rates at both ends.
 */

/** The least-jerk curve with the speed 0 where the data turn and no other limit, into `rates`. */
function solveFree(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  free: readonly number[],
  rates: KnotRates,
): void {
  const { speed, accel } = rates;
  const n = free.length;
  const diagonal = new Float64Array(4 * n);
  const cross = new Float64Array(4 * Math.max(0, n - 1));
  const right = new Float64Array(2 * n);
  const mean = (times[times.length - 1] - times[0]) / (times.length - 1);
  const h = (i: number): number => (times[i + 1] - times[i]) / mean;
  const turns = (i: number): boolean => 0 < (values[i] - values[i - 1]) * (values[i] - values[i + 1]);
  free.forEach((i, k) => {
    const [l, r] = [h(i - 1), h(i)];
    const [dl, dr] = [values[i] - values[i - 1], values[i + 1] - values[i]];
    diagonal.set([384 / l ** 3 + 384 / r ** 3, 72 / r ** 2 - 72 / l ** 2, 0, 18 / l + 18 / r], 4 * k);
    diagonal[4 * k + 2] = diagonal[4 * k + 1];
    right.set([(720 * dl) / l ** 4 + (720 * dr) / r ** 4, (-120 * dl) / l ** 3 + (120 * dr) / r ** 3], 2 * k);
    const next = free[k + 1] === i + 1;
    if (next) cross.set([336 / r ** 3, 48 / r ** 2, -48 / r ** 2, -6 / r], 4 * k);
    // Neighbours that stay count with the rates that they have.
    if (free[k - 1] !== i - 1) {
      const [v, a] = [speed[i - 1] * mean, accel[i - 1] * mean * mean];
      right[2 * k] -= (336 * v) / l ** 3 + (48 * a) / l ** 2;
      right[2 * k + 1] += (48 * v) / l ** 2 + (6 * a) / l;
    }
    if (!next) {
      const [v, a] = [speed[i + 1] * mean, accel[i + 1] * mean * mean];
      right[2 * k] -= (336 * v) / r ** 3 - (48 * a) / r ** 2;
      right[2 * k + 1] -= (48 * v) / r ** 2 - (6 * a) / r;
    }
  });
  free.forEach((i, k) => {
    if (!turns(i)) return;
    // x = 0 in place of its equation, and out of all others.
    diagonal.set([1, 0, 0, diagonal[4 * k + 3]], 4 * k);
    right[2 * k] = 0;
    if (k + 1 < n) cross[4 * k] = cross[4 * k + 2] = 0;
    if (0 < k) cross[4 * k - 4] = cross[4 * k - 3] = 0;
  });
  solveBlockChain(diagonal, cross, right);
  free.forEach((i, k) => {
    speed[i] = right[2 * k] / mean;
    accel[i] = right[2 * k + 1] / (mean * mean);
  });
}

function sweep(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  rates: KnotRates,
  free: readonly number[],
  polygons: readonly HalfPlane[][],
): void {
  for (let round = 0; round < MOST_SWEEPS; round++) {
    let moved = 0;
    for (let k = 0; k < free.length; k++) {
      const n = round % 2 === 0 ? k : free.length - 1 - k;
      moved = Math.max(moved, settle(times, values, rates, free[n], polygons[n]));
    }
    if (moved <= SETTLED) return;
  }
}

/** Puts knot `i` at its best while its neighbours stay. Returns how far it moved, as a share of its scale. */
function settle(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  { speed, accel }: KnotRates,
  i: number,
  polygon: readonly HalfPlane[],
): number {
  const left = times[i] - times[i - 1];
  const right = times[i + 1] - times[i];
  const mean = (left + right) / 2;
  const l = left / mean;
  const r = right / mean;
  const vL = speed[i - 1] * left;
  const aL = accel[i - 1] * left * left;
  const pL = values[i] - values[i - 1] - vL - aL / 2;
  const vR = speed[i + 1] * right;
  const aR = accel[i + 1] * right * right;
  const pR = values[i + 1] - values[i];
  const bowl = {
    xx: 384 / (l * l * l) + 384 / (r * r * r),
    xy: 72 / (r * r) - 72 / (l * l),
    yy: 18 / l + 18 / r,
    x1: (-720 * pL - 384 * (vL + aL) + 72 * aL) / l ** 4 + (-720 * pR + 336 * vR - 48 * aR) / r ** 4,
    y1: (120 * pL + 72 * (vL + aL) - 18 * aL) / l ** 3 + (-120 * pR + 48 * vR - 6 * aR) / r ** 3,
  };
  const [x, y] = leastInPolygon(bowl, polygon);
  const scale = Math.abs(values[i] - values[i - 1]) + Math.abs(values[i + 1] - values[i]);
  const moved = Math.max(Math.abs(x - speed[i] * mean), Math.abs(y - accel[i] * mean * mean));
  speed[i] = x / mean;
  accel[i] = y / (mean * mean);
  return moved / scale;
}
