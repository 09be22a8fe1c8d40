import { SCAN_TIME } from "../thresholds.ts";

/** A value and when it holds [s]. */
export interface Peak {
  readonly t: number;
  readonly value: number;
}

/** The first of equally bad instants stays the worst one: a plateau is told by where it begins. */
export const isWorse = (value: number, than: number): boolean =>
  // Anything is worse than nothing.
  than === -Infinity ? value > than : value > than + 1e-9 * Math.max(1, Math.abs(than));

/** Golden-section search for the highest value of `at` between `lo` and `hi` [s], no lower than `known`. */
export function refinePeak(lo: number, hi: number, known: Peak, at: (t: number) => number): Peak {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let best = known;
  let [a, b] = [hi - ratio * (hi - lo), lo + ratio * (hi - lo)];
  let [fa, fb] = [at(a), at(b)];
  while (hi - lo > SCAN_TIME) {
    if (isWorse(fa, best.value)) best = { t: a, value: fa };
    if (isWorse(fb, best.value)) best = { t: b, value: fb };
    if (fa >= fb) {
      hi = b;
      [b, fb] = [a, fa];
      a = hi - ratio * (hi - lo);
      fa = at(a);
    } else {
      lo = a;
      [a, fa] = [b, fb];
      b = lo + ratio * (hi - lo);
      fb = at(b);
    }
  }
  return best;
}
