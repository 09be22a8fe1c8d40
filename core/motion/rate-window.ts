import { stepTogether, type Bowls, type KnotRates, writeBowls } from "./jerk-bowl.ts";
import { PLANES, type Polygons, writePolygon } from "./knot-polygons.ts";
import { leastInPolygon } from "./least-in-polygon.ts";

/** A knot that moves by less than this share of its scale does not move its neighbours: no one sees less. */
const SETTLED = 1e-6;
const MOST_SWEEPS = 60;
/** How often the room of each piece is dealt out anew between its ends. */
const DEALS = 3;

/** All knots of a window, the first and the last with it. */
interface Window {
  readonly times: Float64Array;
  readonly values: Float64Array;
  readonly rates: KnotRates;
  readonly bowls: Bowls;
  readonly polygons: Polygons;
  /** What both ends of each piece may use, in rises of the piece, shape (pieces, 2): 5 in all. */
  readonly rooms: Float64Array;
  /** Shape (n,): 1 for a knot that is not at its best since a neighbour or its room changed. */
  readonly waits: Uint8Array;
}

/**
 * Rates of the knots within a window, whose ends keep theirs: of least squared jerk among those that keep each piece
 * monotone. No two neighbouring values are equal, but at the ends.
 *
 * The derivative of a quintic piece is a quartic; in Bernstein form over the piece, of length h and rise d, it is
 * v0, v0 + a0 h/4, 5 d/h - (the others), v1 - a1 h/4, v1. The piece is monotone when none of these has the wrong sign.
 * The middle one couples both ends: the left uses 2 v0 + a0 h/4 of 5 d/h, the right 2 v1 - a1 h/4. Each end gets a share,
 * so that each knot has a polygon of its own for (speed, acceleration), and sweeping over the knots converges; then what
 * an end has left over is dealt out anew. Where nothing binds, the free least-jerk curve is found at once.
 */
export function settleWindow(times: Float64Array, values: Float64Array, rates: KnotRates): void {
  const n = times.length;
  const window: Window = {
    times,
    values,
    rates,
    bowls: writeBowls(times),
    polygons: { planes: new Float64Array(3 * PLANES * n), bound: new Uint8Array(n) },
    rooms: new Float64Array(2 * (n - 1)).fill(2.5),
    waits: new Uint8Array(n).fill(1),
  };
  const { bound } = window.polygons;
  window.rooms[1] = window.rooms[2 * n - 4] = 5;
  for (let i = 1; i + 1 < n; i++) {
    writePolygon(times, values, window.rooms, window.polygons, i);
    // Where the data turn the speed is 0: the knot stands on its first plane.
    bound[i] = 0 < (values[i] - values[i - 1]) * (values[i] - values[i + 1]) ? 1 : 0;
  }
  // The free curve first: from there little is left to do, or nothing.
  stepTogether(window.bowls, times, values, rates, window.polygons);
  for (let deal = 0; deal < DEALS; deal++) {
    sweep(window);
    if (!dealAnew(window)) return;
  }
}

/** Gives each end what it uses and half of what is left. Returns false when no end had reached its room. */
function dealAnew(window: Window): boolean {
  const { times, values, rooms, waits } = window;
  const { speed, accel } = window.rates;
  let bound = false;
  for (let i = 1; i + 2 < times.length; i++) {
    const h = times[i + 1] - times[i];
    const rise = values[i + 1] - values[i];
    const left = (2 * speed[i] * h + (accel[i] * h * h) / 4) / rise;
    const right = (2 * speed[i + 1] * h - (accel[i + 1] * h * h) / 4) / rise;
    const spare = 5 - left - right;
    if (spare < 1e-3) continue;
    const isFull = rooms[2 * i] - left < 1e-9 || rooms[2 * i + 1] - right < 1e-9;
    rooms[2 * i] = left + spare / 2;
    rooms[2 * i + 1] = right + spare / 2;
    bound ||= isFull;
    if (isFull) waits[i] = waits[i + 1] = 1;
    writePolygon(times, values, window.rooms, window.polygons, i);
    writePolygon(times, values, window.rooms, window.polygons, i + 1);
  }
  return bound;
}

/**
 * Puts each knot that waits at its best while the others stay, forth and back; between sweeps all that their polygons
 * leave free moves together. Ends with a sweep, so that every knot is inside its polygon.
 */
function sweep(window: Window): void {
  const { times, values, rates, bowls, polygons, waits } = window;
  const n = times.length;
  for (let round = 0; round < MOST_SWEEPS; round++) {
    let moved = 0;
    for (let k = 1; k + 1 < n; k++) {
      const i = round % 2 === 0 ? k : n - 1 - k;
      if (waits[i] === 1) moved = Math.max(moved, settle(window, i));
    }
    if (moved <= SETTLED || round === MOST_SWEEPS - 1) return;
    if (round % 2 === 0) continue;
    stepTogether(bowls, times, values, rates, polygons);
    waits.fill(1);
  }
}

const scaleAt = (values: Float64Array, i: number): number =>
  Math.abs(values[i] - values[i - 1]) + Math.abs(values[i + 1] - values[i]);

/** Puts knot `i` at its best while its neighbours stay. Returns how far it moved, as a share of its scale. */
function settle({ times, values, rates, bowls, polygons, waits }: Window, i: number): number {
  const { speed, accel } = rates;
  const mean = (times[i + 1] - times[i - 1]) / 2;
  leastInPolygon(bowls, times, values, rates, polygons, i);
  const { x, y } = bowls.least;
  const moved = Math.max(Math.abs(x - speed[i] * mean), Math.abs(y - accel[i] * mean * mean)) / scaleAt(values, i);
  speed[i] = x / mean;
  accel[i] = y / (mean * mean);
  waits[i] = 0;
  if (SETTLED < moved) waits[i - 1] = waits[i + 1] = 1;
  return moved;
}
