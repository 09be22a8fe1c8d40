import { centroid, convexHull } from "../base/polygon.ts";
import type { Vec2 } from "../base/vec3.ts";
import { GRAVITY } from "./mass-points.ts";
import { pressOf, type Pull } from "./pressure-point.ts";

/** The polygon that wheels or feet span, as its edges: a point is inside where x nx + y ny - offset is positive for all. */
export interface Feet {
  readonly count: number;
  /** Shape (count, 3): inward unit normal and offset [m]. */
  readonly edges: Float64Array;
  /** How far the middle is from each edge, shape (count,) [m], above 0. */
  readonly reach: Float64Array;
  readonly middle: Vec2;
}

/** @param corners In any order, not all on one line; what is not convex is taken by its hull, as what stands on it does. */
export function feetOf(corners: readonly Vec2[]): Feet {
  const hull = convexHull(corners);
  const middle = centroid(hull);
  const edges = hull.flatMap(([ax, ay], i) => {
    const [bx, by] = hull[(i + 1) % hull.length];
    const size = Math.hypot(bx - ax, by - ay);
    const [nx, ny] = [(ay - by) / size, (bx - ax) / size];
    return [nx, ny, nx * ax + ny * ay];
  });
  const reach = hull.map((_, i) => edges[3 * i] * middle[0] + edges[3 * i + 1] * middle[1] - edges[3 * i + 2]);
  return { count: hull.length, edges: Float64Array.from(edges), reach: Float64Array.from(reach), middle };
}

/**
 * What is left of the way from the middle of the feet to an edge: 1 in the middle, 0 on the edge, below 0 beyond it;
 * -Infinity where nothing presses on the floor. The least of all edges.
 *
 * @param inertia Share of the accelerations' pull that counts.
 */
export function freeShare(feet: Feet, pull: Pull, inertia: number): number {
  let least = Infinity;
  for (let e = 0; e < feet.count; e++) least = Math.min(least, edgeShare(feet, pull, inertia, e));
  return least;
}

/** The edge whose share is the least. */
export function nearestEdge(feet: Feet, pull: Pull, inertia: number): number {
  let edge = 0;
  for (let e = 1; e < feet.count; e++) {
    if (edgeShare(feet, pull, inertia, e) < edgeShare(feet, pull, inertia, edge)) edge = e;
  }
  return edge;
}

function edgeShare(feet: Feet, pull: Pull, inertia: number, e: number): number {
  const press = pressOf(pull, inertia);
  if (!(press > 0)) return -Infinity;
  const { gravity: g, inertia: f } = pull;
  return (edgeMoment(feet, e, 0, g) + inertia * edgeMoment(feet, e, 0, f)) / (press * feet.reach[e]);
}

/** Moment of a pull about the line that is `share` of the way from edge `e` to the middle [N·m]; positive holds the rig. */
function edgeMoment({ edges, reach }: Feet, e: number, share: number, pull: Float64Array): number {
  const [nx, ny] = [edges[3 * e], edges[3 * e + 1]];
  return nx * pull[4] - ny * pull[3] + (edges[3 * e + 2] + share * reach[e]) * pull[2];
}

/**
 * The largest share of the accelerations' pull with which `share` of the way stays free at all edges: its root is the
 * share of the speed at which the move may be played. 0 where even standing still does not leave it; at most 1.
 */
export function bearableInertia(feet: Feet, pull: Pull, share: number): number {
  let most = 1;
  for (let e = 0; e < feet.count; e++) {
    const still = edgeMoment(feet, e, share, pull.gravity);
    const moved = edgeMoment(feet, e, share, pull.inertia);
    if (still < 0) return 0;
    if (still + most * moved < 0) most = -still / moved;
  }
  return most;
}

/**
 * What is to be added on the floor in the middle of the feet, so that `wanted` of the way stays free where `share` does [kg].
 *
 * @param wanted Below 1.
 */
export function ballast(pull: Pull, share: number, wanted: number): number {
  const { gravity: g } = pull;
  // On ground that leans, a kilogram presses with the cosine of its weight, and adds to no moment about the middle.
  const pressing = (GRAVITY * -g[2]) / Math.hypot(g[0], g[1], g[2]);
  return ((pressOf(pull, 1) / pressing) * (wanted - share)) / (1 - wanted);
}
