import { createRates, type LimitedPath } from "./limited-path.ts";
import type { TimeLaw } from "./time-law.ts";

export interface LawLimits {
  /** Factor by which the law would have to be slowed down for every limit to be met, or could be sped up (below 1). */
  readonly factor: number;
  /** Time spent at each limit [s], shape (axes, 3): speed, acceleration, jerk. */
  readonly bound: Float64Array;
}

/** Places of a stretch that are looked at, its ends among them. */
const LOOKED = 8;
/** Share of a limit from which an axis is at it. */
const BINDS = 0.985;

/** Looks at every axis closely along a law, on both sides of each node. */
export function lawLimits(path: LimitedPath, law: TimeLaw): LawLimits {
  const axes = path.limits.length;
  const rates = createRates(axes);
  const square = new Float64Array(3);
  const bound = new Float64Array(3 * axes);
  const shares = new Float64Array(3);
  let factor = 0;
  for (let i = 0; i + 1 < law.nodes.length; i++) {
    const h = law.nodes[i + 1] - law.nodes[i];
    for (let k = 0; k <= LOOKED; k++) {
      const s = k / LOOKED;
      const u = k === LOOKED ? law.nodes[i + 1] : law.nodes[i] + s * h;
      law.squareAt(i, s, square);
      const [b, b1, b2] = square;
      if (!(0 < b && b < Infinity)) continue;
      path.derive(u, k === LOOKED ? "left" : "right", rates);
      const spent = ((k === 0 || k === LOOKED ? 0.5 : 1) * h) / (LOOKED * Math.sqrt(b));
      for (let axis = 0; axis < axes; axis++) {
        const { speed, accel, jerk } = path.limits[axis];
        const [d1, d2, d3] = [rates.first[axis], rates.second[axis], rates.third[axis]];
        const root = Math.sqrt(b);
        shares[0] = shareOf(d1 * root, speed);
        shares[1] = shareOf(d2 * b + (d1 * b1) / 2, accel);
        shares[2] = law.smooth ? shareOf(root * (d3 * b + 1.5 * d2 * b1 + (d1 * b2) / 2), jerk) : 0;
        factor = Math.max(factor, shares[0], Math.sqrt(shares[1]), Math.cbrt(shares[2]));
        for (let order = 0; order < 3; order++) if (BINDS <= shares[order]) bound[3 * axis + order] += spent;
      }
    }
  }
  return { factor, bound };
}

function shareOf(value: number, limit: number | undefined): number {
  return limit === undefined ? 0 : Math.abs(value) / limit;
}
