import type { AimSpan, MoveModel } from "./move-model.ts";
import { FACTORIAL, ROOM } from "./series.ts";
import { solveInstant, type SolveRoom } from "./solve-instant.ts";
import { piecePolynomial } from "./solved-path.ts";
import { MISSED, PATH_FLOOR, PATH_SHARE } from "./tolerances.ts";
import { writeTracks } from "./tracks.ts";

/** Where within a piece it is compared: not in the middle, where errors of odd derivatives cancel. */
const CHECKED_AT = [0.27, 0.62] as const;

/**
 * True when the polynomials of degree 9 between two solved ends follow the exact solution to jerk. Their own derivatives
 * are compared with exact ones at two instants within the piece, in shares of the largest of the ends and these.
 */
export function pathFits(
  model: MoveModel,
  room: SolveRoom,
  span: AimSpan,
  interval: number,
  left: Float64Array,
  right: Float64Array,
  from: number,
  to: number,
): boolean {
  const { unknown } = span.problem!;
  const length = to - from;
  const drawn = unknown.map((_, u) =>
    [0, 1, 2, 3].map((order) => piecePolynomial(left, u * ROOM, right, u * ROOM, length, order)),
  );
  for (const share of CHECKED_AT) {
    const t = from + share * length;
    writeTracks(model.tracks, interval, t, 3, room.series);
    unknown.forEach((axis, u) => (room.series[axis * ROOM] = valueOf(drawn[u][0], share)));
    if (!(solveInstant(model, room, span, interval, 3) < MISSED)) return false;
    for (let u = 0; u < unknown.length; u++) {
      for (let order = 0; order < 4; order++) {
        const exact = room.series[unknown[u] * ROOM + order];
        const size = Math.max(Math.abs(exact), Math.abs(left[u * ROOM + order]), Math.abs(right[u * ROOM + order]));
        // The value itself starts Newton's method and is held closer.
        const allowed = order === 0 ? 0 : PATH_SHARE * size;
        const miss = Math.abs(valueOf(drawn[u][order], share) / FACTORIAL[order] - exact);
        if (!(miss <= allowed + PATH_FLOOR[order] / FACTORIAL[order])) return false;
      }
    }
  }
  return true;
}

function valueOf(polynomial: readonly number[], s: number): number {
  let value = 0;
  for (let n = polynomial.length - 1; 0 <= n; n--) value = value * s + polynomial[n];
  return value;
}
