import { createPupilRoom, nearness, pupilTerm, writePupilTerms, type PupilRoom } from "../lens/pupil.ts";
import type { PupilTable } from "../lens/resolved-optics.ts";
import type { FocusSpan, MoveModel } from "./move-model.ts";
import { productTerm, quotientTerm, ROOM } from "./series.ts";

/** Room for the entrance pupil as a series in time, from those of focal length and focus distance. */
export interface PupilSeriesRoom {
  readonly table: PupilRoom;
  /** One over the focus distance [1/m]. */
  readonly near: Float64Array;
  /** Powers 0 to 4 of what focal length and nearness change by, shape (ROOM, ROOM). */
  readonly focalPower: Float64Array;
  readonly nearPower: Float64Array;
}

const ONE = Float64Array.of(1, 0, 0, 0, 0);

export function createPupilSeriesRoom(): PupilSeriesRoom {
  return {
    table: createPupilRoom(),
    near: new Float64Array(ROOM),
    focalPower: new Float64Array(ROOM * ROOM),
    nearPower: new Float64Array(ROOM * ROOM),
  };
}

/**
 * Coefficient `k` of the pupil in front of the flange [m], lower ones called for before: Taylor's formula in two
 * variables, whose changes are themselves series.
 *
 * @param focal Series of the focal length [m], from `f` on.
 * @param focus Series of the focus distance from the sensor plane [m], from `d` on; NaN at order 0 without a focus.
 */
export function pupilSeriesTerm(
  table: PupilTable,
  room: PupilSeriesRoom,
  focal: Float64Array,
  f: number,
  focus: Float64Array,
  d: number,
  k: number,
): number {
  const { near } = room;
  if (k === 0) near[0] = nearness(focus[d]);
  // Where the table has levelled off, what focus does there counts no more.
  const level = near[0] === 0 || table.near[table.near.length - 1] <= near[0];
  if (0 < k) near[k] = level ? 0 : quotientTerm(ONE, 0, focus, d, near, 0, k);
  writePowerTerm(focal, f, room.focalPower, k);
  writePowerTerm(near, 0, room.nearPower, k);
  // Newton's method asks for order 0 again and again and needs no more than the slopes.
  if (k < 2) writePupilTerms(table, focal[f], near[0], k === 0 ? 1 : ROOM - 1, room.table);
  if (k === 0) return pupilTerm(room.table, 0, 0);
  let sum = 0;
  for (let i = 0; i <= k; i++) {
    for (let j = i === 0 ? 1 : 0; i + j <= k; j++) {
      const part = productTerm(room.focalPower, i * ROOM, room.nearPower, j * ROOM, k);
      if (part !== 0) sum += pupilTerm(room.table, i, j) * part;
    }
  }
  return sum;
}

const INFINITY = Float64Array.of(NaN, 0, 0, 0, 0);

/**
 * Coefficient `k` of the pupil of a move in an interval, from the tracks' series. While focus is on a target this is the
 * pupil at infinity: what it really is comes with the axes.
 */
export function pupilTermOf(
  model: MoveModel,
  room: PupilSeriesRoom,
  series: Float64Array,
  interval: number,
  k: number,
): number {
  if (!Number.isNaN(model.stillPupil)) return k === 0 ? model.stillPupil : 0;
  const span: FocusSpan | undefined = model.focusSpans[model.focusOf[interval]];
  const set = span !== undefined && span.from < 0 && span.share < 0;
  const { pupil } = model.move.optics;
  return pupilSeriesTerm(
    pupil,
    room,
    series,
    model.focal * ROOM,
    set ? series : INFINITY,
    set ? model.focus * ROOM : 0,
    k,
  );
}

/** How the pupil goes with the focus distance at order 0 [m/m]. Right after `pupilSeriesTerm(…, 0)`. */
export function pupilByFocus(room: PupilSeriesRoom): number {
  const slope = pupilTerm(room.table, 0, 1);
  return slope === 0 ? 0 : -slope * room.near[0] * room.near[0];
}

/** Coefficient `k` of powers 0 to k of the series `a` less its first coefficient. */
function writePowerTerm(a: Float64Array, at: number, out: Float64Array, k: number): void {
  out[k] = k === 0 ? 1 : 0;
  for (let i = 1; i < ROOM; i++) {
    let sum = 0;
    for (let n = 1; n <= k; n++) sum += a[at + n] * out[(i - 1) * ROOM + k - n];
    out[i * ROOM + k] = sum;
  }
}
