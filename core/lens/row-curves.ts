/*
 * From one row of a lens table to the next: a polynomial of degree 9 that meets both rows with their slopes and with second
 * to fourth derivatives 0, so that what is read off a table steps nothing up to jerk.
 */

/** Derivatives along a table are known to this order. */
const HIGHEST = 4;
/** Taylor coefficients of one curve: orders 0 to 4. */
export const WIDTH = HIGHEST + 1;

/** From a row to the next over s = 0..1: the share of the way gone, and what a slope of 1 at the first row adds. */
const WAY = [0, 0, 0, 0, 0, 126, -420, 540, -315, 70] as const;
const LEAN = [0, 1, 0, 0, 0, -70, 224, -280, 160, -35] as const;

/**
 * Taylor coefficients at `x` of the four curves of the cell that holds it: what the value and the slope of its first row
 * count, then those of its second. Beyond the places nothing changes any more.
 *
 * @param places Ascending.
 * @param order  0 to 4.
 * @param out    Shape (4, WIDTH).
 * @returns The first row of the cell.
 */
export function writeCurves(places: readonly number[], x: number, order: number, out: Float64Array): number {
  out.fill(0);
  const last = places.length - 1;
  if (last === 0 || !(places[0] < x)) {
    out[0] = 1;
    return 0;
  }
  if (places[last] <= x) {
    out[2 * WIDTH] = 1;
    return last - 1;
  }
  let cell = 0;
  while (places[cell + 1] <= x) cell++;
  const step = places[cell + 1] - places[cell];
  const s = (x - places[cell]) / step;
  writeCurve(WAY, s, order, out, 2 * WIDTH);
  writeCurve(LEAN, s, order, out, WIDTH);
  // The second slope's curve is the first one's seen from the other end.
  writeCurve(LEAN, 1 - s, order, out, 3 * WIDTH);
  let per = 1;
  for (let n = 0; n <= order; n++) {
    const way = out[2 * WIDTH + n] * per;
    out[n] = (n === 0 ? 1 : 0) - way;
    out[2 * WIDTH + n] = way;
    out[WIDTH + n] *= per * step;
    out[3 * WIDTH + n] *= (n % 2 === 0 ? -1 : 1) * per * step;
    per /= step;
  }
  return cell;
}

/** Taylor coefficients of a polynomial of degree 9 at `s`, by Horner's scheme, into `out[at ..]`. */
function writeCurve(polynomial: readonly number[], s: number, order: number, out: Float64Array, at: number): void {
  for (let n = 9; 0 <= n; n--) {
    for (let k = order; 0 < k; k--) out[at + k] = out[at + k] * s + out[at + k - 1];
    out[at] = out[at] * s + polynomial[n];
  }
}
