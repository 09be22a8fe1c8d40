import { constantCurve, pieceCount, type Piecewise } from "./piecewise.ts";

/**
 * One curve of several that do not overlap, each within its own times, and 0 between them. It steps where one ends and
 * the next begins; nothing may be read across. So many switches make one track.
 *
 * @param parts Of degree 5 at most, in order of time.
 */
export function joinCurves(parts: readonly Piecewise[]): Piecewise {
  const times: number[] = [];
  const coefficients: number[] = [];
  for (const part of parts) {
    if (part.degree === 0) continue;
    const width = part.degree + 1;
    const start = part.times[0];
    if (times.length === 0) times.push(start);
    else if (times[times.length - 1] < start) {
      times.push(start);
      coefficients.push(0, 0, 0, 0, 0, 0);
    }
    for (let i = 0; i < pieceCount(part); i++) {
      times.push(part.times[i + 1]);
      for (let n = 0; n < 6; n++) coefficients.push(n < width ? part.coefficients[i * width + n] : 0);
    }
  }
  if (times.length < 2) return constantCurve(0);
  return { degree: 5, times: Float64Array.from(times), coefficients: Float64Array.from(coefficients) };
}
