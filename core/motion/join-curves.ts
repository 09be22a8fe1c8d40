import { constantCurve, pieceCount, type Piecewise } from "./piecewise.ts";

/**
 * One curve of several that do not overlap, each within its own times, and 0 between them. It steps where one ends and
 * the next begins; nothing may be read across. So many switches make one track.
 *
 * @param parts In order of time.
 */
export function joinCurves(parts: readonly Piecewise[]): Piecewise {
  const pieces: TimedPiece[] = [];
  let end: number | undefined;
  for (const part of parts) {
    if (part.degree === 0) continue;
    const width = part.degree + 1;
    if (end !== undefined && end < part.times[0]) pieces.push({ from: end, to: part.times[0], coefficients: [0] });
    for (let i = 0; i < pieceCount(part); i++) {
      const coefficients = part.coefficients.subarray(i * width, (i + 1) * width);
      pieces.push({ from: part.times[i], to: part.times[i + 1], coefficients });
    }
    end = part.times[part.times.length - 1];
  }
  return curveOf(pieces);
}

/** A polynomial in (t - from) / (to - from), lowest coefficient first. */
export interface TimedPiece {
  readonly from: number;
  readonly to: number;
  readonly coefficients: ArrayLike<number>;
}

/** One curve of pieces that follow one another, of the degree that the highest of them needs; 0 of none. */
export function curveOf(pieces: readonly TimedPiece[]): Piecewise {
  if (pieces.length === 0) return constantCurve(0);
  const width = pieces.reduce((most, { coefficients }) => Math.max(most, coefficients.length), 2);
  const coefficients = new Float64Array(width * pieces.length);
  pieces.forEach((piece, i) => coefficients.set(piece.coefficients, i * width));
  const times = Float64Array.of(pieces[0].from, ...pieces.map(({ to }) => to));
  return { degree: width - 1, times, coefficients };
}
