/** One half-plane: a x + b y <= limit. */
export interface HalfPlane {
  readonly a: number;
  readonly b: number;
  readonly limit: number;
}

/** The quadratic ½ (xx x² + 2 xy x y + yy y²) + x1 x + y1 y, convex. */
export interface Bowl {
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
  readonly x1: number;
  readonly y1: number;
}

/**
 * The lowest point of a bowl within a polygon that holds the origin. Exact: the lowest point is the bowl's own, or lies
 * on one edge, or in one corner, and all of them are tried.
 *
 * @returns [x, y]; the origin when rounding leaves no other point inside.
 */
export function leastInPolygon(bowl: Bowl, planes: readonly HalfPlane[]): readonly [number, number] {
  const det = bowl.xx * bowl.yy - bowl.xy * bowl.xy;
  const lowX = (bowl.xy * bowl.y1 - bowl.yy * bowl.x1) / det;
  const lowY = (bowl.xy * bowl.x1 - bowl.xx * bowl.y1) / det;
  return holds(planes, lowX, lowY) ? [lowX, lowY] : leastOnEdge(bowl, planes);
}

function leastOnEdge(bowl: Bowl, planes: readonly HalfPlane[]): readonly [number, number] {
  let best: readonly [number, number] = [0, 0];
  let bestHeight = 0;
  const offer = (x: number, y: number): void => {
    const height = heightAt(bowl, x, y);
    if (!(height < bestHeight) || !holds(planes, x, y)) return;
    best = [x, y];
    bestHeight = height;
  };
  for (let i = 0; i < planes.length; i++) {
    const p = planes[i];
    // The edge is foot + u · (-b, a); the bowl along it is a parabola in u.
    const size = p.a * p.a + p.b * p.b;
    const fx = (p.a * p.limit) / size;
    const fy = (p.b * p.limit) / size;
    const slope = -p.b * (bowl.xx * fx + bowl.xy * fy + bowl.x1) + p.a * (bowl.xy * fx + bowl.yy * fy + bowl.y1);
    const bend = bowl.xx * p.b * p.b - 2 * bowl.xy * p.a * p.b + bowl.yy * p.a * p.a;
    const u = -slope / bend;
    offer(fx - u * p.b, fy + u * p.a);
    for (let j = 0; j < i; j++) {
      const other = planes[j];
      const cross = p.a * other.b - p.b * other.a;
      if (cross === 0) continue;
      offer((p.limit * other.b - p.b * other.limit) / cross, (p.a * other.limit - p.limit * other.a) / cross);
    }
  }
  return best;
}

function holds(planes: readonly HalfPlane[], x: number, y: number): boolean {
  for (let i = 0; i < planes.length; i++) {
    const ax = planes[i].a * x;
    const by = planes[i].b * y;
    if (planes[i].limit + 1e-13 * (Math.abs(ax) + Math.abs(by)) < ax + by) return false;
  }
  return true;
}

function heightAt(bowl: Bowl, x: number, y: number): number {
  return 0.5 * (bowl.xx * x * x + 2 * bowl.xy * x * y + bowl.yy * y * y) + bowl.x1 * x + bowl.y1 * y;
}
