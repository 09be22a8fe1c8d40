import { convexHull } from "../base/polygon.ts";
import type { Vec2, Vec3 } from "../base/vec3.ts";
import { bentWay, fromEye, inPlane, isAhead, NEAR, type Eye, type Rectangle } from "./eye.ts";

/** Of the window's width: places nearer to each other are one, a thousandth of a px on the page. */
const GRID = 2 ** -20;

/**
 * The outline on the page of a convex body, as far as it is ahead and in the window. Empty where nothing is to be seen.
 *
 * @param corners Of the body, in the set [m].
 */
export function outlineOn(eye: Eye, corners: readonly Vec3[]): Vec2[] {
  const seen = corners.map((corner) => fromEye(eye, corner));
  const ahead = seen.filter((point) => isAhead(eye, point));
  const behind = seen.filter((point) => !isAhead(eye, point));
  // The body's cut with the near plane is the hull of where the lines from each corner ahead to each behind meet it.
  const cut = ahead.flatMap((a) =>
    behind.map((b): Vec3 => {
      const share = (a[2] - NEAR) / (a[2] - b[2]);
      return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), NEAR];
    }),
  );
  const step = (eye.window.right - eye.window.left) * GRID;
  const hull = hullOnGrid([...ahead, ...cut].map((point) => inPlane(eye, point)), step); // prettier-ignore
  const polygon = cutPolygon(hull, eye.window);
  if (polygon.length < 3) return [];
  return polygon.flatMap((corner, idx) => bentWay(eye, corner, polygon[(idx + 1) % polygon.length]));
}

/** The convex hull of points that are first put on a grid, so that corners over each other but for rounding have the same x. */
function hullOnGrid(points: readonly Vec2[], step: number): Vec2[] {
  const hull = convexHull(points.map(([x, y]): Vec2 => [Math.round(x / step), Math.round(y / step)]));
  return hull.map(([x, y]) => [x * step, y * step]);
}

/** The part of a convex polygon within a rectangle (Sutherland and Hodgman, 1974). */
function cutPolygon(polygon: readonly Vec2[], { left, right, top, bottom }: Rectangle): readonly Vec2[] {
  const sides: readonly ((point: Vec2) => number)[] = [
    ([x]) => x - left,
    ([x]) => right - x,
    ([, y]) => y - top,
    ([, y]) => bottom - y,
  ];
  return sides.reduce<readonly Vec2[]>(
    (rest, inside) =>
      rest.flatMap((to, idx) => {
        const from = rest[(idx + rest.length - 1) % rest.length];
        const [a, b] = [inside(from), inside(to)];
        const share = a / (a - b);
        const cut: Vec2 = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
        if (b >= 0) return a >= 0 ? [to] : [cut, to];
        return a >= 0 ? [cut] : [];
      }),
    polygon,
  );
}
