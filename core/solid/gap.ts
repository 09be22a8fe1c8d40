import type { Convex } from "./convex.ts";
import { createPlacing, placeDifference, supportDifference, type Placing } from "./difference.ts";
import { measureDepth } from "./depth.ts";
import { createPolytope, type Polytope } from "./polytope.ts";
import { createSimplex, findNearest, findThoroughly, keepNearest, type Simplex } from "./simplex.ts";

/** What is between two bodies. Made once by its owner and written again by each measurement, which allocates nothing. */
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
  readonly polytope: Polytope;
}

/** Steps after which a distance is taken as it is; the hardest cases that the tests find need a third of them. */
const MOST_STEPS = 128;
/** Of the distance and the sizes: what a distance may be off by. */
const RELATIVE = 1e-12;

export function createGap(): Gap {
  return {
    distance: NaN,
    bound: false,
    from: new Float64Array(3),
    to: new Float64Array(3),
    along: new Float64Array(3),
    work: { placing: createPlacing(), simplex: createSimplex(), polytope: createPolytope(MOST_CORNERS) },
  };
}

/** Corners of the inner body that a depth of overlap is found with. */
const MOST_CORNERS = 128;

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
 * @param depths `unknown` for who needs no depths, which take a hundred times as long: where cores overlap, `distance` is then only
 *               known to be what is written or less, and points and direction are not written.
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
  const rounding = a.rounding + b.rounding;
  const farthest = placing.distance - a.radius - b.radius;
  if (farthest > enough) {
    out.distance = farthest;
    out.bound = true;
    return;
  }
  out.bound = false;
  const { w } = simplex;
  // Rounding errors grow with how far the points of the difference are from the origin.
  const reach = placing.distance + a.radius + b.radius;
  const slack = RELATIVE * reach;
  const { nearest } = placing;
  simplex.count = 0;
  supportDifference(placing, a, b, placing.towards[0], placing.towards[1], placing.towards[2], simplex, 0);
  simplex.count = 1;
  let square = findNearest(simplex);
  keepNearest(simplex);
  for (let step = 0; ; step++) {
    readNearest(simplex, nearest);
    const size = Math.sqrt(square);
    if (simplex.count === 4 || size <= slack) {
      if (depths === "unknown") {
        out.distance = -rounding;
        return;
      }
      if (measureDepth(placing, a, b, size, out, reach)) return;
      break;
    }
    if (step === MOST_STEPS) break;
    const [x, y, z] = nearest;
    const slot = simplex.count;
    supportDifference(placing, a, b, -x, -y, -z, simplex, slot);
    const seen = (x * w[3 * slot] + y * w[3 * slot + 1] + z * w[3 * slot + 2]) / size;
    // No point of the difference is nearer than this.
    if (seen - rounding > enough) {
      out.distance = seen - rounding;
      out.bound = true;
      return;
    }
    if (size - seen <= slack || isKnown(simplex)) break;
    simplex.count += 1;
    let next = findNearest(simplex);
    if (!(next < square)) next = findThoroughly(simplex);
    if (!(next < square)) {
      // Needles a million times as long as thick: rounding hides which face is nearest. The growing body tells.
      if (size - seen > 1e3 * slack && measureDepth(placing, a, b, size, out, reach)) return;
      break;
    }
    keepNearest(simplex);
    square = next;
  }
  writeApart(placing, a, b, nearest, out);
}

/** The nearest point of the simplex, and the points of the bodies that it is the difference of: (9,). */
function readNearest({ count, share, w, a, b }: Simplex, out: Float64Array): void {
  for (let k = 0; k < 3; k++) {
    let difference = 0;
    let onA = 0;
    let onB = 0;
    for (let i = 0; i < count; i++) {
      difference += share[i] * w[3 * i + k];
      onA += share[i] * a[3 * i + k];
      onB += share[i] * b[3 * i + k];
    }
    out[k] = difference;
    out[3 + k] = onA;
    out[6 + k] = onB;
  }
}

/** True where the newest point is in the simplex already: nothing is nearer. */
function isKnown({ count, w }: Simplex): boolean {
  for (let i = 0; i < count; i++) {
    if (w[3 * i] === w[3 * count] && w[3 * i + 1] === w[3 * count + 1] && w[3 * i + 2] === w[3 * count + 2])
      return true;
  }
  return false;
}

/** From the cores' nearest points, in the first body's frame, to those of the bodies in the set's. */
function writeApart(
  { rotation: r, position: p }: Placing,
  a: Convex,
  b: Convex,
  nearest: Float64Array,
  out: Gap,
): void {
  const size = Math.hypot(nearest[0], nearest[1], nearest[2]);
  out.distance = size - a.rounding - b.rounding;
  const x = -nearest[0] / size;
  const y = -nearest[1] / size;
  const z = -nearest[2] / size;
  for (let k = 0; k < 3; k++) {
    const along = r[3 * k] * x + r[3 * k + 1] * y + r[3 * k + 2] * z;
    out.along[k] = along;
    out.from[k] =
      p[k] + r[3 * k] * nearest[3] + r[3 * k + 1] * nearest[4] + r[3 * k + 2] * nearest[5] + along * a.rounding;
    out.to[k] =
      p[k] + r[3 * k] * nearest[6] + r[3 * k + 1] * nearest[7] + r[3 * k + 2] * nearest[8] - along * b.rounding;
  }
}
