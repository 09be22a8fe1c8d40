/** Half-planes of one knot at most. */
export const PLANES = 6;

/** A knot that stands in a corner and cannot move. */
export const CORNERED = 255;

/** For each of n knots a polygon that holds the origin. */
export interface Polygons {
  /** Shape (n, PLANES, 3): a, b, limit of a x + b y <= limit. */
  readonly planes: Float64Array;
  /** Where the knot stands, shape (n,): 0 inside, else the number of its plane counted from 1, or `CORNERED`. */
  readonly bound: Uint8Array;
}

/**
 * Writes the polygon of knot `i` in its own units: x = speed · H, y = acceleration · H², H the mean length of both pieces.
 *
 * @param rooms What both ends of each piece may use, in rises of the piece, shape (pieces, 2).
 */
export function writePolygon(
  times: Float64Array,
  values: Float64Array,
  rooms: Float64Array,
  polygons: Polygons,
  i: number,
): void {
  const left = times[i] - times[i - 1];
  const right = times[i + 1] - times[i];
  const mean = (left + right) / 2;
  const l = left / mean;
  const r = right / mean;
  const fall = values[i] - values[i - 1];
  const rise = values[i + 1] - values[i];
  const up = Math.sign(fall);
  const on = Math.sign(rise);
  const { planes } = polygons;
  const at = 3 * PLANES * i;
  // Rows a, b, limit of a x + b y <= limit; where the data turn the first two leave x = 0.
  planes[at] = -up;
  planes[at + 3] = -on;
  planes[at + 6] = -up;
  planes[at + 7] = (up * l) / 4;
  planes[at + 9] = 2 * up;
  planes[at + 10] = (-up * l) / 4;
  planes[at + 11] = (rooms[2 * i - 1] * Math.abs(fall)) / l;
  planes[at + 12] = -on;
  planes[at + 13] = (-on * r) / 4;
  planes[at + 15] = 2 * on;
  planes[at + 16] = (on * r) / 4;
  planes[at + 17] = (rooms[2 * i] * Math.abs(rise)) / r;
}
