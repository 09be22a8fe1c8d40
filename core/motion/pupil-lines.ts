import { pupilAt } from "../lens/project.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import { pieceCount, valueAt, type Piecewise } from "./piecewise.ts";
import { rootsWithin } from "./polynomial-roots.ts";
import type { Tracks } from "./tracks.ts";

/**
 * Times [s] at which a zoom passes a row of the lens's pupil table. The table is straight between its rows, so the
 * pupil's speed steps there and nothing may be differentiated across.
 */
export function pupilTimes(optics: ResolvedOptics, focal: Piecewise): number[] {
  if (optics.pupil.length < 2 || focal.degree === 0) return [];
  const times: number[] = [];
  const width = focal.degree + 1;
  for (let piece = 0; piece < pieceCount(focal); piece++) {
    for (const row of optics.pupil) {
      const polynomial = Array.from(focal.coefficients.subarray(piece * width, (piece + 1) * width));
      polynomial[0] -= row.focal;
      const start = focal.times[piece];
      for (const s of rootsWithin(polynomial, 0, 1)) times.push(start + s * (focal.times[piece + 1] - start));
    }
  }
  return times;
}

/** The straight line of the pupil table that each interval runs on: pupil = base + slope · focal. */
export function pupilLines(
  optics: ResolvedOptics,
  tracks: Tracks,
  focal: number,
): { readonly pupilBase: Float64Array; readonly pupilSlope: Float64Array } {
  const intervals = tracks.knots.length - 1;
  const pupilBase = new Float64Array(intervals);
  const pupilSlope = new Float64Array(intervals);
  const rows = optics.pupil;
  for (let i = 0; i < intervals; i++) {
    const f = valueAt(tracks.curves[focal], (tracks.knots[i] + tracks.knots[i + 1]) / 2);
    const after = rows.findIndex((row) => f < row.focal);
    const inside = 0 < after && rows[after - 1].focal < rows[after].focal;
    const slope = inside ? (rows[after].at - rows[after - 1].at) / (rows[after].focal - rows[after - 1].focal) : 0;
    pupilSlope[i] = slope;
    pupilBase[i] = inside ? rows[after - 1].at - slope * rows[after - 1].focal : pupilAt(optics, f);
  }
  return { pupilBase, pupilSlope };
}
