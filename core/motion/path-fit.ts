import { polynomialAt } from "./polynomial.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import { FACTORIAL, ROOM } from "./series.ts";
import { solveInstant, type SolveRoom } from "./solve-instant.ts";
import { piecePolynomial, WIGGLE } from "./solved-path.ts";
import { MISSED, PATH_FLOOR, PATH_SHARE } from "./tolerances.ts";
import { writeTracks } from "./tracks.ts";

/** Where within a piece it is compared: not in the middle, where errors of odd derivatives cancel. */
const CHECKED_AT = [0.27, 0.62] as const;

/** A piece between two solved ends: series of the unknowns there, (unknowns, ROOM). */
export interface Piece {
  readonly interval: number;
  readonly from: number;
  readonly to: number;
  readonly left: Float64Array;
  readonly right: Float64Array;
}

/**
 * True when the polynomials between two solved ends follow the exact solution to jerk. Their derivatives are compared
 * with exact ones at two instants within the piece, in shares of the largest of the ends and these.
 */
export function pathFits(model: MoveModel, room: SolveRoom, span: AimSpan, piece: Piece): boolean {
  const { unknown } = span.problem!;
  const { left, right, from, to } = piece;
  const length = to - from;
  const drawn = unknown.map((_, u) =>
    [0, 1, 2, 3].map((order) => piecePolynomial(left, u * ROOM, right, u * ROOM, length, order)),
  );
  for (const share of CHECKED_AT) {
    const exact = solvedAt(model, room, span, piece, drawn, share);
    if (!exact) return false;
    for (let u = 0; u < unknown.length; u++) {
      for (let order = 0; order < 4; order++) {
        const value = exact[u][order];
        const size = Math.max(Math.abs(value), Math.abs(left[u * ROOM + order]), Math.abs(right[u * ROOM + order]));
        // The value itself starts Newton's method and is held closer.
        const allowed = order === 0 ? PATH_FLOOR[0] : PATH_SHARE * size + PATH_FLOOR[order] / FACTORIAL[order];
        const rounding = order === 0 ? 0 : WIGGLE / length ** order;
        const miss = Math.abs(polynomialAt(drawn[u][order], share) / FACTORIAL[order] - value);
        if (!(miss <= allowed + rounding)) return false;
      }
    }
  }
  return true;
}

/** Coefficients of the unknowns, orders 0 to 3, at a share of the piece; nothing where the aim has no solution. */
function solvedAt(
  model: MoveModel,
  room: SolveRoom,
  span: AimSpan,
  piece: Piece,
  drawn: readonly number[][][],
  share: number,
): number[][] | undefined {
  const { unknown } = span.problem!;
  const t = piece.from + share * (piece.to - piece.from);
  writeTracks(model.tracks, piece.interval, t, 3, room.series);
  unknown.forEach((axis, u) => (room.series[axis * ROOM] = polynomialAt(drawn[u][0], share)));
  if (!(solveInstant(model, room, span, piece.interval, 3).miss[0] < MISSED)) return undefined;
  return unknown.map((axis) => [0, 1, 2, 3].map((order) => room.series[axis * ROOM + order]));
}
