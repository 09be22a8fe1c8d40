import type { Vec2 } from "./vec3.ts";

/**
 * The convex hull of points, anticlockwise, without points on its edges (Andrew's monotone chain, 1979). Fewer than three
 * corners where all points are on one line, to rounding.
 */
export function convexHull(points: readonly Vec2[]): Vec2[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const size = Math.max(0, ...sorted.map(([x, y]) => Math.hypot(x - sorted[0][0], y - sorted[0][1])));
  /** Whether b is no corner on the way from a to c. One that the way turns back at is one, however little it turns. */
  const isPassed = (a: Vec2, b: Vec2, c: Vec2): boolean => {
    const turn = leftTurn(a, b, c);
    return turn <= 0 || (turn <= size * size * 1e-12 && 0 <= advance(a, b, c));
  };
  const half = (row: readonly Vec2[]): Vec2[] => {
    const chain: Vec2[] = [];
    for (const point of row) {
      while (chain.length >= 2 && isPassed(chain[chain.length - 2], chain[chain.length - 1], point)) chain.pop();
      chain.push(point);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half([...sorted].reverse())];
}

/** Twice the area of the triangle a, b, c; positive where it is anticlockwise. */
function leftTurn(a: Vec2, b: Vec2, c: Vec2): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/** Above 0 where the way from b to c goes on in the direction from a to b, below where it turns back. */
function advance(a: Vec2, b: Vec2, c: Vec2): number {
  return (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]);
}

/** The centre of the area of a polygon, anticlockwise, three corners or more that are not on one line. */
export function centroid(corners: readonly Vec2[]): Vec2 {
  let [area, x, y] = [0, 0, 0];
  const [ox, oy] = corners[0];
  corners.forEach(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % corners.length];
    const part = (ax - ox) * (by - oy) - (bx - ox) * (ay - oy);
    area += part;
    x += part * (ax + bx - 2 * ox);
    y += part * (ay + by - 2 * oy);
  });
  return [ox + x / (3 * area), oy + y / (3 * area)];
}
