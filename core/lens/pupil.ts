import type { PupilTable, ResolvedOptics } from "./resolved-optics.ts";

/** Derivatives along each of focal length and nearness are known to this order. */
const HIGHEST = 4;
const WIDTH = HIGHEST + 1;

/** From a row to the next over s = 0..1: the share of the way gone, and what a slope of 1 at the first row adds. */
const WAY = [0, 0, 0, 0, 0, 126, -420, 540, -315, 70] as const;
const LEAN = [0, 1, 0, 0, 0, -70, 224, -280, 160, -35] as const;

/** What reading a pupil table writes; the caller's, made once. */
export interface PupilRoom {
  /** Taylor coefficients: by power of the focal length [m], then by power of the nearness [1/m], shape (WIDTH, WIDTH). */
  readonly terms: Float64Array;
  /** Of the four curves of a cell along focal length and along nearness, shape (4, WIDTH). */
  readonly focal: Float64Array;
  readonly near: Float64Array;
}

export function createPupilRoom(): PupilRoom {
  return {
    terms: new Float64Array(WIDTH * WIDTH),
    focal: new Float64Array(4 * WIDTH),
    near: new Float64Array(4 * WIDTH),
  };
}

/** The term of powers `i` of the focal length and `j` of the nearness. */
export function pupilTerm(room: PupilRoom, i: number, j: number): number {
  return room.terms[i * WIDTH + j];
}

/** One over a focus distance [1/m], as the table has it. Without a focus the lens counts as set to infinity; a distance of 0 or behind the sensor is as near as can be. */
export function nearness(focus: number): number {
  if (Number.isNaN(focus)) return 0;
  return 0 < focus ? 1 / focus : Infinity;
}

/** True for a pupil that neither zoom nor focus moves. */
export function isFixed(table: PupilTable): boolean {
  return table.nodes.length === 4;
}

/**
 * Entrance pupil in front of the flange [m].
 *
 * @param focal Focal length [m].
 * @param focus Focus distance from the sensor plane [m]; NaN when nothing is focused on, which counts as infinity.
 */
export function pupilAt(optics: ResolvedOptics, focal: number, focus: number): number {
  if (isFixed(optics.pupil)) return optics.pupil.nodes[0];
  const room = createPupilRoom();
  writePupilTerms(optics.pupil, focal, nearness(focus), 0, room);
  return room.terms[0];
}

/**
 * Taylor coefficients of the pupil about a focal length [m] and a nearness [1/m] into `room.terms`: term (i, j) is
 * ∂^(i+j) / (i! j!), for i + j up to `order`, at most 4. The pupil and its derivatives have no step anywhere. Allocates
 * nothing.
 */
export function writePupilTerms(table: PupilTable, focal: number, near: number, order: number, room: PupilRoom): void {
  const i = writeCurves(table.focal, focal, order, room.focal);
  const k = writeCurves(table.near, near, order, room.near);
  const columns = table.near.length;
  const { nodes } = table;
  const { terms } = room;
  for (let m = 0; m <= order; m++) for (let n = 0; m + n <= order; n++) terms[m * WIDTH + n] = 0;
  for (let corner = 0; corner < 4; corner++) {
    const p = corner >> 1;
    const q = corner & 1;
    if ((p === 1 && table.focal.length === 1) || (q === 1 && columns === 1)) continue;
    const node = 4 * ((i + p) * columns + k + q);
    const [way, lean] = [2 * p * WIDTH, (2 * p + 1) * WIDTH];
    const [nearWay, nearLean] = [2 * q * WIDTH, (2 * q + 1) * WIDTH];
    for (let m = 0; m <= order; m++) {
      const w = room.focal[way + m];
      const l = room.focal[lean + m];
      const value = nodes[node] * w + nodes[node + 1] * l;
      const slope = nodes[node + 2] * w + nodes[node + 3] * l;
      for (let n = 0; m + n <= order; n++) {
        terms[m * WIDTH + n] += value * room.near[nearWay + n] + slope * room.near[nearLean + n];
      }
    }
  }
}

/**
 * Taylor coefficients at `x` of the four curves of the cell that holds it: what the value and the slope of its first row
 * count, then those of its second. Beyond the places nothing changes any more.
 *
 * @returns The first row of the cell.
 */
function writeCurves(places: readonly number[], x: number, order: number, out: Float64Array): number {
  out.fill(0);
  const last = places.length - 1;
  if (last === 0 || !(places[0] < x)) {
    out[0] = 1;
    return 0;
  }
  if (places[last] <= x) {
    out[2 * WIDTH] = 1;
    return last - 1;
  }
  let cell = 0;
  while (places[cell + 1] <= x) cell++;
  const step = places[cell + 1] - places[cell];
  const s = (x - places[cell]) / step;
  writeCurve(WAY, s, order, out, 2 * WIDTH);
  writeCurve(LEAN, s, order, out, WIDTH);
  // The second slope's curve is the first one's seen from the other end.
  writeCurve(LEAN, 1 - s, order, out, 3 * WIDTH);
  let per = 1;
  for (let n = 0; n <= order; n++) {
    const way = out[2 * WIDTH + n] * per;
    out[n] = (n === 0 ? 1 : 0) - way;
    out[2 * WIDTH + n] = way;
    out[WIDTH + n] *= per * step;
    out[3 * WIDTH + n] *= (n % 2 === 0 ? -1 : 1) * per * step;
    per /= step;
  }
  return cell;
}

/** Taylor coefficients of a polynomial of degree 9 at `s`, by Horner's scheme, into `out[at ..]`. */
function writeCurve(polynomial: readonly number[], s: number, order: number, out: Float64Array, at: number): void {
  for (let n = 9; 0 <= n; n--) {
    for (let k = order; 0 < k; k--) out[at + k] = out[at + k] * s + out[at + k - 1];
    out[at] = out[at] * s + polynomial[n];
  }
}
