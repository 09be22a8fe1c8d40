import type { PupilTable, ResolvedOptics } from "./resolved-optics.ts";
import { WIDTH, writeCurves } from "./row-curves.ts";

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
