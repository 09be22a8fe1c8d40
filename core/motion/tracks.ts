import { distinctTimes } from "./same-time.ts";
import { pieceAt, writeSeries, type Piecewise } from "./piecewise.ts";
import { ROOM } from "./series.ts";
import type { Side } from "./trajectory.ts";

/** Curves over one time line, cut into intervals within which every curve is one polynomial. */
export interface Tracks {
  readonly curves: readonly Piecewise[];
  /** Ends of the intervals, ascending, first 0, last the duration; [0, 0] for a move without length. */
  readonly knots: Float64Array;
  /** Piece of each curve in each interval, shape (intervals, curves). */
  readonly pieces: Int32Array;
  /** Curves that move; the others are written once by `writeStill`. */
  readonly moving: Int32Array;
}

/**
 * @param duration End of the time line [s]; curves beyond it are cut off, curves that end before it are held.
 * @param extra    Further times that intervals must end at.
 */
export function layTracks(curves: readonly Piecewise[], duration: number, extra: readonly number[]): Tracks {
  const held = curves.map((curve) => holdBeyond(curve, duration));
  const all = [0, duration, ...extra];
  for (const curve of held) if (0 < curve.degree) for (const time of curve.times) all.push(time);
  const knots = distinctTimes(Float64Array.from(all.filter((time) => 0 <= time && time <= duration)).sort());
  knots[knots.length - 1] = duration;
  if (knots.length === 1) knots.push(duration);
  const pieces = new Int32Array((knots.length - 1) * held.length);
  held.forEach(({ times }, c) => {
    let piece = 0;
    for (let i = 0; i + 1 < knots.length; i++) {
      const middle = (knots[i] + knots[i + 1]) / 2;
      while (piece + 2 < times.length && times[piece + 1] <= middle) piece++;
      pieces[i * held.length + c] = piece;
    }
  });
  return {
    curves: held,
    knots: Float64Array.from(knots),
    pieces,
    moving: Int32Array.from(held.flatMap((curve, c) => (curve.degree === 0 ? [] : [c]))),
  };
}

/** The interval that holds `t`, at a knot the one on `side`. */
export function intervalAt(tracks: Tracks, t: number, side: Side): number {
  return pieceAt(tracks.knots, t, side);
}

/** Series of every moving curve at `t` in `interval`, orders 0 to `order`, into `series`, shape (curves, ROOM). */
export function writeTracks(tracks: Tracks, interval: number, t: number, order: number, series: Float64Array): void {
  const { curves, pieces, moving } = tracks;
  const row = interval * curves.length;
  for (let m = 0; m < moving.length; m++) {
    const c = moving[m];
    writeSeries(curves[c], pieces[row + c], t, order, series, c * ROOM);
  }
}

/** Series of the curves that never move, all orders. */
export function writeStill(tracks: Tracks, series: Float64Array): void {
  tracks.curves.forEach((curve, c) => {
    if (curve.degree === 0) series.fill(0, c * ROOM, (c + 1) * ROOM)[c * ROOM] = curve.coefficients[0];
  });
}

/** Adds still pieces before and after a moving curve, so that it covers 0..duration. */
function holdBeyond(curve: Piecewise, duration: number): Piecewise {
  if (curve.degree === 0) return curve;
  const width = curve.degree + 1;
  const first = curve.times[0];
  const last = curve.times[curve.times.length - 1];
  const before = 0 < first;
  const after = last < duration;
  if (!before && !after) return curve;
  const times = [...(before ? [0] : []), ...curve.times, ...(after ? [duration] : [])];
  const coefficients = new Float64Array((times.length - 1) * width);
  coefficients.set(curve.coefficients, before ? width : 0);
  if (before) coefficients[0] = curve.coefficients[0];
  if (after) {
    const end = curve.coefficients.slice(curve.coefficients.length - width);
    coefficients[coefficients.length - width] = end.reduce((sum, c) => sum + c, 0);
  }
  return { degree: curve.degree, times: Float64Array.from(times), coefficients };
}
