import { convexOfPoints, type Convex } from "./convex.ts";
import { createCrowd, type Crowd } from "./crowd.ts";
import { flatOutline } from "./flat-outline.ts";
import { createGap, measureGap } from "./gap.ts";
import { createPolytope, growPolytope, startPolytope, type Polytope } from "./polytope.ts";
import { createSimplex, findNearest, type Simplex } from "./simplex.ts";
import { distinctPoints, widestPoints } from "./widest-points.ts";

/** The corners of a hull, few enough to measure with, and how far the points that they leave out lie from it. */
export interface Hull {
  /** Shape (n, 3), n >= 1: some of the points. */
  readonly corners: readonly number[];
  /** No point is farther than this from what lies between the corners: as a rounding it makes a body that holds them all. */
  readonly margin: number;
}

/** Corners that a hull has at most: more would cost more time than they add to its shape. */
export const MOST_HULL_CORNERS = 400;

/** Of the size: points that stand out by less are left out. Files in single precision say no more. */
const RELATIVE = 2e-7;

/**
 * The hull of points. The point that stands out the most is taken in first, so that little is left out when the corners run
 * out; what is left out, there or because it stands out by less than single precision tells, is in `margin`.
 *
 * @param points Shape (n, 3), n >= 1, finite.
 */
export function hullOf(points: ArrayLike<number>): Hull {
  const own = distinctPoints(points);
  const { size, corners } = widestPoints(own, RELATIVE);
  if (corners.length < 4) {
    const outline = flatOutline(own, corners, MOST_HULL_CORNERS).flatMap((corner) => pointOf(own, corner));
    const all = Int32Array.from({ length: own.length / 3 }, (_, idx) => idx);
    return { corners: outline, margin: farthestFrom(outline, own, all, () => Infinity) };
  }
  const polytope = createPolytope(MOST_HULL_CORNERS);
  corners.forEach((corner, slot) => putPoint(polytope, slot, own, corner));
  startPolytope(polytope);
  const { points: outside, faces } = grow(polytope, own, RELATIVE * size);
  const hull = Array.from(polytope.w.subarray(0, 3 * polytope.points));
  const simplex = createSimplex();
  const bound = (idx: number): number => distanceToFace(polytope, faces[idx], own, outside[idx], simplex);
  return { corners: hull, margin: farthestFrom(hull, own, outside, bound) };
}

/**
 * The surface of the hull of points as triangles, to be drawn: corners, shape (n, 3, 3), in the order that turns left as seen
 * from outside. Empty for points that lie in one plane.
 *
 * @param points Shape (n, 3), n >= 1, finite; of more corners than `MOST_HULL_CORNERS` the least are left out.
 */
export function hullTriangles(points: ArrayLike<number>): number[] {
  const own = distinctPoints(points);
  const { size, corners } = widestPoints(own, RELATIVE);
  if (corners.length < 4) return [];
  const polytope = createPolytope(Math.min(MOST_HULL_CORNERS, own.length / 3));
  corners.forEach((corner, slot) => putPoint(polytope, slot, own, corner));
  startPolytope(polytope);
  grow(polytope, own, RELATIVE * size);
  const triangles: number[] = [];
  for (let face = 0; face < polytope.faces; face++) {
    if (polytope.alive[face] === 0) continue;
    for (let k = 0; k < 3; k++) triangles.push(...pointOf(polytope.w, polytope.corner[3 * face + k]));
  }
  return triangles;
}

const pointOf = (points: Float64Array, at: number): number[] => [...points.subarray(3 * at, 3 * at + 3)];

function putPoint({ w }: Polytope, slot: number, points: Float64Array, at: number): void {
  for (let k = 0; k < 3; k++) w[3 * slot + k] = points[3 * at + k];
}

/** Takes points in until none stands out or there is no room. @returns Those that still stand out, by however little, and of which face. */
function grow(polytope: Polytope, points: Float64Array, slack: number): ReturnType<Crowd["rest"]> {
  const crowd = createCrowd(polytope, points);
  while (polytope.points < polytope.most) {
    const { face, point, height } = crowd.farthest();
    if (!(height > slack)) break;
    putPoint(polytope, polytope.points, points, point);
    if (growPolytope(polytope, face, slack / 100)) crowd.follow();
    else crowd.leave(face, point);
  }
  return crowd.rest();
}

/**
 * Largest distance of some of the points from the hull of corners.
 *
 * @param bound A distance that the one of the n-th of them is not above: where it is small, there is nothing to measure.
 */
function farthestFrom(
  corners: readonly number[],
  points: Float64Array,
  some: Int32Array,
  bound: (idx: number) => number,
): number {
  const body = convexOfPoints(corners);
  const point: Convex = { ...convexOfPoints([0, 0, 0]), core: "point" };
  const upright = [1, 0, 0, 0, 1, 0, 0, 0, 1];
  const origin = [0, 0, 0];
  const gap = createGap();
  let farthest = 0;
  some.forEach((at, idx) => {
    if (bound(idx) <= farthest) return;
    measureGap(body, upright, origin, point, upright, points.subarray(3 * at, 3 * at + 3), gap);
    farthest = Math.max(farthest, gap.distance);
  });
  return farthest;
}

function distanceToFace(
  { corner, w }: Polytope,
  face: number,
  points: Float64Array,
  point: number,
  simplex: Simplex,
): number {
  simplex.count = 3;
  for (let i = 0; i < 9; i++) {
    simplex.w[i] = w[3 * corner[3 * face + Math.floor(i / 3)] + (i % 3)] - points[3 * point + (i % 3)];
  }
  return Math.sqrt(findNearest(simplex));
}
