import { type Bowls, type KnotRates, writeSlopes } from "./jerk-bowl.ts";
import { CORNERED, PLANES, type Polygons } from "./knot-polygons.ts";

/**
 * The lowest point of the bowl of knot `i` within its polygon, into `bowls.least`; where it stands, into `bound`. Exact:
 * the lowest point is the bowl's own, or lies on one edge, or in one corner, and all of them are tried. The origin when
 * rounding leaves no other point inside.
 */
export function leastInPolygon(
  bowls: Bowls,
  times: Float64Array,
  values: Float64Array,
  rates: KnotRates,
  polygons: Polygons,
  i: number,
): void {
  writeSlopes(times, values, rates, i, bowls.slope);
  const { least, slope } = bowls;
  const xx = bowls.xx[i];
  const xy = bowls.xy[i];
  const yy = bowls.yy[i];
  const det = xx * yy - xy * xy;
  least.x = (xy * slope[1] - yy * slope[0]) / det;
  least.y = (xy * slope[0] - xx * slope[1]) / det;
  polygons.bound[i] = 0;
  if (!holds(polygons.planes, 3 * PLANES * i, least.x, least.y)) leastOnEdge(bowls, polygons, i);
}

/** Of a convex bowl a point on an edge that is the edge's lowest, inside, and downhill of which is outside is the lowest. */
function leastOnEdge(bowls: Bowls, polygons: Polygons, i: number): void {
  const { planes, bound } = polygons;
  const { least, slope } = bowls;
  const xx = bowls.xx[i];
  const xy = bowls.xy[i];
  const yy = bowls.yy[i];
  const first = 3 * PLANES * i;
  for (let p = 0; p < PLANES; p++) {
    const a = planes[first + 3 * p];
    const b = planes[first + 3 * p + 1];
    const limit = planes[first + 3 * p + 2];
    // The bowl's own lowest point lies beyond this plane, or the plane has no part in it.
    if (a * least.x + b * least.y <= limit) continue;
    // The edge is foot + u · (-b, a); the bowl along it is a parabola in u.
    const size = a * a + b * b;
    const fx = (a * limit) / size;
    const fy = (b * limit) / size;
    const fall = -b * (xx * fx + xy * fy + slope[0]) + a * (xy * fx + yy * fy + slope[1]);
    const u = -fall / (xx * b * b - 2 * xy * a * b + yy * a * a);
    const x = fx - u * b;
    const y = fy + u * a;
    if (!holds(planes, first, x, y)) continue;
    least.x = x;
    least.y = y;
    bound[i] = p + 1;
    return;
  }
  leastInCorner(bowls, polygons, i);
}

function leastInCorner(bowls: Bowls, { planes, bound }: Polygons, i: number): void {
  const { least, slope } = bowls;
  const first = 3 * PLANES * i;
  let best = 0;
  least.x = 0;
  least.y = 0;
  bound[i] = CORNERED;
  for (let p = first; p < first + 3 * PLANES; p += 3) {
    for (let o = first; o < p; o += 3) {
      const cross = planes[p] * planes[o + 1] - planes[p + 1] * planes[o];
      if (cross === 0) continue;
      const x = (planes[p + 2] * planes[o + 1] - planes[p + 1] * planes[o + 2]) / cross;
      const y = (planes[p] * planes[o + 2] - planes[p + 2] * planes[o]) / cross;
      const curved = bowls.xx[i] * x * x + 2 * bowls.xy[i] * x * y + bowls.yy[i] * y * y;
      const height = 0.5 * curved + slope[0] * x + slope[1] * y;
      if (!(height < best) || !holds(planes, first, x, y)) continue;
      best = height;
      least.x = x;
      least.y = y;
    }
  }
}

function holds(planes: Float64Array, first: number, x: number, y: number): boolean {
  for (let at = first; at < first + 3 * PLANES; at += 3) {
    const ax = planes[at] * x;
    const by = planes[at + 1] * y;
    if (planes[at + 2] + 1e-13 * (Math.abs(ax) + Math.abs(by)) < ax + by) return false;
  }
  return true;
}
