import type { Convex } from "./convex.ts";
import { supportDifference, type Placing } from "./difference.ts";
import { findNearest, findThoroughly, keepNearest, type Simplex } from "./simplex.ts";

/**
 * How a search for the nearest points of two cores ended: with the points; with a point of the difference at the origin;
 * with a distance that is proven above what is enough; or where rounding hides which face is nearest.
 */
export type Descent = "apart" | "meets" | "beyond" | "stalled";

/** Steps after which a distance is taken as it is; the hardest cases that the tests find need a third of them. */
const MOST_STEPS = 128;
/** A search that ends farther from its proof than this share of what is asked for has not ended well. */
const STALLED = 1e3;

/**
 * Finds the point of the difference of two cores that is nearest to the origin (Gilbert, Johnson and Keerthi, 1988). Writes
 * `placing.nearest`, and in `placing.distance` its distance, or the one that is proven when it ends `beyond`.
 *
 * @param start  Direction of the first point that is looked at, (3,).
 * @param slack  What the distance may be off by [m].
 * @param enough The search ends once the distance is proven above this [m].
 */
export function nearestCores(
  placing: Placing,
  a: Convex,
  b: Convex,
  simplex: Simplex,
  start: ArrayLike<number>,
  slack: number,
  enough: number,
): Descent {
  const { nearest } = placing;
  const { w } = simplex;
  supportDifference(placing, a, b, start[0], start[1], start[2], simplex, 0);
  simplex.count = 1;
  let square = findNearest(simplex);
  keepNearest(simplex);
  for (let step = 0; ; step++) {
    readNearest(simplex, nearest);
    const size = Math.sqrt(square);
    placing.distance = size;
    if (simplex.count === 4 || size <= slack) return "meets";
    if (step === MOST_STEPS) return "apart";
    const x = nearest[0];
    const y = nearest[1];
    const z = nearest[2];
    const i = 3 * simplex.count;
    supportDifference(placing, a, b, -x, -y, -z, simplex, simplex.count);
    // No point of the difference is nearer than this.
    const proven = (x * w[i] + y * w[i + 1] + z * w[i + 2]) / size;
    if (proven > enough) {
      placing.distance = proven;
      return "beyond";
    }
    if (size - proven <= slack || isKnown(simplex)) return "apart";
    simplex.count += 1;
    let next = findNearest(simplex);
    if (!(next < square)) next = findThoroughly(simplex);
    if (!(next < square)) return size - proven > STALLED * slack ? "stalled" : "apart";
    keepNearest(simplex);
    square = next;
  }
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
