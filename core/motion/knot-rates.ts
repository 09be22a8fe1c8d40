import { bowlOf, stepTogether, type Freedom, type KnotRates } from "./jerk-bowl.ts";
import { leastInPolygon, type HalfPlane } from "./least-in-polygon.ts";

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
  // The free curve first, with the speed 0 where the data turn: from there little is left to do, or nothing.
  const turns = (i: number): boolean => 0 < (values[i] - values[i - 1]) * (values[i] - values[i + 1]);
  stepTogether(
    times,
    values,
    rates,
    free,
    free.map((i) => (turns(i) ? { kind: "line", x: 0, y: 1 } : FREE)),
  );
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

/**
 * Puts each knot at its best while the others stay, forth and back; between sweeps all that their polygons leave free
 * moves together. Ends with a sweep, so that every knot is inside its polygon.
 */
function sweep(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  rates: KnotRates,
  free: readonly number[],
  polygons: readonly HalfPlane[][],
): void {
  const freedoms: Freedom[] = free.map(() => FREE);
  for (let round = 0; round < MOST_SWEEPS; round++) {
    let moved = 0;
    for (let k = 0; k < free.length; k++) {
      const n = round % 2 === 0 ? k : free.length - 1 - k;
      moved = Math.max(moved, settle(times, values, rates, free[n], polygons[n]));
    }
    if (moved <= SETTLED || round === MOST_SWEEPS - 1) return;
    if (round % 2 === 0) continue;
    for (let k = 0; k < free.length; k++) freedoms[k] = freedomOf(times, rates, free[k], polygons[k]);
    stepTogether(times, values, rates, free, freedoms);
  }
}

const FREE: Freedom = { kind: "free", x: 1, y: 0 };

/** What the edges that a knot stands on leave it. */
function freedomOf(
  times: ArrayLike<number>,
  { speed, accel }: KnotRates,
  i: number,
  polygon: readonly HalfPlane[],
): Freedom {
  const mean = (times[i + 1] - times[i - 1]) / 2;
  const x = speed[i] * mean;
  const y = accel[i] * mean * mean;
  let line: Freedom | undefined;
  for (const { a, b, limit } of polygon) {
    if (a * x + b * y < limit - 1e-9 * (Math.abs(limit) + Math.abs(a * x) + Math.abs(b * y))) continue;
    const size = Math.hypot(a, b);
    // A second edge that is not parallel leaves a corner.
    if (line && 1e-9 < Math.abs((a * line.x + b * line.y) / size)) return { kind: "none", x: 1, y: 0 };
    line = { kind: "line", x: -b / size, y: a / size };
  }
  return line ?? FREE;
}

/** Puts knot `i` at its best while its neighbours stay. Returns how far it moved, as a share of its scale. */
function settle(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  rates: KnotRates,
  i: number,
  polygon: readonly HalfPlane[],
): number {
  const { speed, accel } = rates;
  const mean = (times[i + 1] - times[i - 1]) / 2;
  const [x, y] = leastInPolygon(bowlOf(times, values, rates, i), polygon);
  const scale = Math.abs(values[i] - values[i - 1]) + Math.abs(values[i + 1] - values[i]);
  const moved = Math.max(Math.abs(x - speed[i] * mean), Math.abs(y - accel[i] * mean * mean));
  speed[i] = x / mean;
  accel[i] = y / (mean * mean);
  return moved / scale;
}
