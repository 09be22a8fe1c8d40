import type { AimSpan, MoveModel } from "./move-model.ts";
import { FACTORIAL, ROOM } from "./series.ts";
import { solveInstant, type SolveRoom } from "./solve-instant.ts";
import { WIDTH, writeNonic } from "./solved-path.ts";
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
  const piece = new Float64Array(WIDTH * unknown.length);
  unknown.forEach((_, u) => writeNonic(left, u * ROOM, right, u * ROOM, length, piece, u * WIDTH));
  const drawn = new Float64Array(ROOM);
  for (const share of CHECKED_AT) {
    const t = from + share * length;
    writeTracks(model.tracks, interval, t, 3, room.series);
    unknown.forEach((axis, u) => (room.series[axis * ROOM] = valueOf(piece, u * WIDTH, share)));
    if (!(solveInstant(model, room, span, interval, 3) < MISSED)) return false;
    for (let u = 0; u < unknown.length; u++) {
      writeDerivatives(piece, u * WIDTH, share, length, drawn);
      for (let k = 0; k < 4; k++) {
        const exact = room.series[unknown[u] * ROOM + k];
        const size = Math.max(Math.abs(exact), Math.abs(left[u * ROOM + k]), Math.abs(right[u * ROOM + k]));
        // The value itself starts Newton's method and is held closer.
        const allowed = k === 0 ? 1e-6 : PATH_SHARE * size + PATH_FLOOR[k] / FACTORIAL[k];
        if (!(Math.abs(drawn[k] - exact) <= allowed)) return false;
      }
    }
  }
  return true;
}

function valueOf(piece: Float64Array, at: number, s: number): number {
  let value = 0;
  for (let n = WIDTH - 1; 0 <= n; n--) value = value * s + piece[at + n];
  return value;
}

/** Taylor coefficients in time, orders 0 to 3. */
function writeDerivatives(piece: Float64Array, at: number, s: number, length: number, out: Float64Array): void {
  out.fill(0);
  for (let n = WIDTH - 1; 0 <= n; n--) {
    for (let k = 3; 0 < k; k--) out[k] = out[k] * s + out[k - 1];
    out[0] = out[0] * s + piece[at + n];
  }
  for (let k = 1; k < 4; k++) out[k] /= length ** k;
}
