import { ROOM } from "./series.ts";

/**
 * A curve over time made of polynomials. Piece i runs from `times[i]` to `times[i + 1]`; within it the value is
 * sum c[i · (degree + 1) + k] s^k with s = (t - times[i]) / (times[i + 1] - times[i]).
 */
export interface Piecewise {
  readonly degree: number;
  /** Ascending, shape (pieces + 1,) [s]. No piece is empty. */
  readonly times: Float64Array;
  /** Shape (pieces, degree + 1). */
  readonly coefficients: Float64Array;
}

export function pieceCount(curve: Piecewise): number {
  return curve.times.length - 1;
}

/** A curve that never moves. Its one piece covers all of time that is asked for. */
export function constantCurve(value: number): Piecewise {
  return { degree: 0, times: Float64Array.of(0, 1), coefficients: Float64Array.of(value) };
}

/** The piece that holds `t`; at an inner knot the piece on `side`. Times beyond the ends belong to the end pieces. */
export function pieceAt(times: Float64Array, t: number, side: "left" | "right"): number {
  let low = 0;
  let high = times.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (times[middle] < t || (times[middle] === t && side === "right")) low = middle;
    else high = middle - 1;
  }
  return low;
}

/**
 * Writes the Taylor coefficients of piece `piece` at time `t`, orders 0 to `order` (4 at most), into `out[at ..]`. Beyond the piece
 * its polynomial goes on.
 */
export function writeSeries(
  curve: Piecewise,
  piece: number,
  t: number,
  order: number,
  out: Float64Array,
  at: number,
): void {
  const { degree, times, coefficients } = curve;
  const first = piece * (degree + 1);
  if (degree === 0) {
    out[at] = coefficients[first];
    for (let k = 1; k <= order; k++) out[at + k] = 0;
    return;
  }
  const length = times[piece + 1] - times[piece];
  // A move of a single instant has pieces without length.
  const per = 0 < length ? 1 / length : 0;
  const s = 0 < length ? (t - times[piece]) / length : 0;
  // Horner's scheme, all orders at once: p becomes p·s + c, each derivative gathers the one below it.
  let p0 = coefficients[first + degree];
  let p1 = 0;
  let p2 = 0;
  let p3 = 0;
  let p4 = 0;
  if (order === 0) for (let n = degree - 1; 0 <= n; n--) p0 = p0 * s + coefficients[first + n];
  else if (order < 4) {
    for (let n = degree - 1; 0 <= n; n--) {
      p3 = p3 * s + p2;
      p2 = p2 * s + p1;
      p1 = p1 * s + p0;
      p0 = p0 * s + coefficients[first + n];
    }
  } else {
    for (let n = degree - 1; 0 <= n; n--) {
      p4 = p4 * s + p3;
      p3 = p3 * s + p2;
      p2 = p2 * s + p1;
      p1 = p1 * s + p0;
      p0 = p0 * s + coefficients[first + n];
    }
  }
  out[at] = p0;
  if (order < 1) return;
  out[at + 1] = p1 * per;
  if (order < 2) return;
  const square = per * per;
  out[at + 2] = p2 * square;
  if (order < 3) return;
  out[at + 3] = p3 * square * per;
  if (3 < order) out[at + 4] = p4 * square * square;
}

/** Value at `t`, held before the first and after the last piece. */
export function valueAt(curve: Piecewise, t: number): number {
  const out = new Float64Array(ROOM);
  const last = curve.times[curve.times.length - 1];
  const inside = Math.min(Math.max(t, curve.times[0]), last);
  writeSeries(curve, pieceAt(curve.times, inside, "right"), inside, 0, out, 0);
  return out[0];
}
