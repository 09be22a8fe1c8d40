import type { OpenTake } from "../take/open-take.ts";
import { createExtents, type Extents } from "./extents.ts";
import type { Samples } from "./samples.ts";

/** Lines of a take that were made once: another choice of graphs, another size or theme makes none of them again. */
export interface LineStore {
  readonly open: OpenTake;
  line(name: string, make: () => Samples): Extents;
  /** What several lines are made of; always asked for with the same type. */
  base<T>(name: string, make: () => T): T;
}

export function createLineStore(open: OpenTake): LineStore {
  const lines = new Map<string, Extents>();
  const bases = new Map<string, unknown>();
  return {
    open,
    line(name, make) {
      const known = lines.get(name) ?? createExtents(make());
      lines.set(name, known);
      return known;
    },
    base<T>(name: string, make: () => T) {
      const known = bases.has(name) ? (bases.get(name) as T) : make();
      bases.set(name, known);
      return known;
    },
  };
}

/** The lowest and highest finite value of a line; NaN when there is none. */
export function wholeExtent({ samples, low, high }: Extents): { readonly low: number; readonly high: number } {
  const lows = low[low.length - 1];
  const out = { low: Infinity, high: -Infinity };
  const include = (a: number, b: number): void => {
    if (a < out.low) out.low = a;
    if (b > out.high) out.high = b;
  };
  if (lows) lows.forEach((value, i) => include(value, high[high.length - 1][i]));
  else {
    for (let i = 0; i < samples.times.length; i++) {
      const value = samples.table[samples.offset + i * samples.stride] * samples.factor + samples.shift;
      if (Number.isFinite(value)) include(value, value);
    }
  }
  return out.low > out.high ? { low: NaN, high: NaN } : out;
}
