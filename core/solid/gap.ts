import type { Convex } from "./convex.ts";
import { createPlacing, placeDifference, type Placing } from "./difference.ts";
import { measureDepth } from "./depth.ts";
import { nearestCores } from "./nearest-cores.ts";
import type { Polytope } from "./polytope.ts";
import { createSimplex, type Simplex } from "./simplex.ts";

/** What is between two bodies. Made once by its owner and written again by each measurement, which allocates nothing once bodies have overlapped. */
export interface Gap {
  /**
   * Distance of the nearest points [m]. Below 0 where the bodies overlap: the length of the least shift that would part them.
   * Where `bound` is set, a distance that the true one is not below.
   */
  distance: number;
  /** True where the measurement ended early, as the distance was proven above `enough`: points and direction are then not written. */
  bound: boolean;
  /** A point of the first body and one of the second [m]. Shifting the first body by `to − from` makes the two just touch. */
  readonly from: Float64Array;
  readonly to: Float64Array;
  /** Unit vector from the first body to the second: the distance grows as fast as the second moves along it. */
  readonly along: Float64Array;
  readonly work: GapWork;
}

/** Room that a measurement works in. */
export interface GapWork {
  readonly placing: Placing;
  readonly simplex: Simplex;
  /** Made by the first bodies that overlap: most never do. */
  polytope?: Polytope;
}

/** Of the distance and the sizes: what a distance may be off by. */
const RELATIVE = 1e-12;
/** Bodies smaller than this are points [m]. */
const LEAST = 1e-9;

export function createGap(): Gap {
  return {
    distance: NaN,
    bound: false,
    from: new Float64Array(3),
    to: new Float64Array(3),
    along: new Float64Array(3),
    work: { placing: createPlacing(), simplex: createSimplex() },
  };
}

/**
 * The signed distance of two placed bodies with the points and the direction that it is measured between.
 *
 * Distances come from the nearest point of the difference of both bodies to the origin (Gilbert, Johnson and Keerthi, 1988),
 * depths from growing a body inside of it (van den Bergen, 2001).
 *
 * @param ra, rb Row-major 3 x 3 rotations, from the bodies' frames to the set's.
 * @param pa, pb Positions of the bodies' origins [m].
 * @param out    Written, see `Gap`. `distance` is within 1e-11 of the sizes where bodies are apart.
 * @param enough The measurement may end once the distance is proven above this [m]; default: it never does.
 * @param depths `unknown` for who needs no depths, which take many times as long: where cores overlap, `distance` is then
 *               only known to be what is written or less, and points and direction are not written.
 */
export function measureGap(
  a: Convex,
  ra: ArrayLike<number>,
  pa: ArrayLike<number>,
  b: Convex,
  rb: ArrayLike<number>,
  pb: ArrayLike<number>,
  out: Gap,
  enough = Infinity,
  depths: "known" | "unknown" = "known",
): void {
  const { placing, simplex } = out.work;
  placeDifference(placing, a, ra, pa, b, rb, pb);
  const centres = placing.distance;
  const farthest = centres - a.radius - b.radius;
  out.bound = farthest > enough;
  out.distance = farthest;
  if (out.bound) return;
  const rounding = a.rounding + b.rounding;
  // Rounding errors grow with how far the points of the difference are from the origin.
  const reach = Math.max(LEAST, centres + a.radius + b.radius);
  const end = nearestCores(placing, a, b, simplex, placing.towards, RELATIVE * reach, enough + rounding);
  if (end === "beyond") {
    out.distance = placing.distance - rounding;
    out.bound = true;
    return;
  }
  if (end === "meets" && depths === "unknown") {
    out.distance = -rounding;
    return;
  }
  const isDeep = end !== "apart" && measureDepth(placing, a, b, out, reach);
  if (!isDeep) writeApart(placing, a, b, out);
}

/** From the cores' nearest points, in the first body's frame, to those of the bodies in the set's. */
function writeApart({ rotation: r, position: p, nearest, distance }: Placing, a: Convex, b: Convex, out: Gap): void {
  out.distance = distance - a.rounding - b.rounding;
  const x = -nearest[0] / distance;
  const y = -nearest[1] / distance;
  const z = -nearest[2] / distance;
  for (let k = 0; k < 3; k++) {
    const along = r[3 * k] * x + r[3 * k + 1] * y + r[3 * k + 2] * z;
    out.along[k] = along;
    out.from[k] =
      p[k] + r[3 * k] * nearest[3] + r[3 * k + 1] * nearest[4] + r[3 * k + 2] * nearest[5] + along * a.rounding;
    out.to[k] =
      p[k] + r[3 * k] * nearest[6] + r[3 * k + 1] * nearest[7] + r[3 * k + 2] * nearest[8] - along * b.rounding;
  }
}
