import { sampleAt, type Samples } from "./samples.ts";

/** Samples of a block of the lowest level, and blocks of a level in one of the next. */
const FAN = 16;

/**
 * The lowest and highest number of blocks of samples, of blocks of those, and so on, so that those of any stretch are had
 * from a few: a curve of 100,000 samples is drawn without looking at each of them. What is not finite counts as not there;
 * a block of such alone has low Infinity and high -Infinity.
 */
export interface Extents {
  readonly samples: Samples;
  /** By level: block k of level l holds the samples from k · 16^(l+1) on. */
  readonly low: readonly Float64Array[];
  readonly high: readonly Float64Array[];
}

export function createExtents(samples: Samples): Extents {
  const low: Float64Array[] = [];
  const high: Float64Array[] = [];
  let count = samples.times.length;
  for (let level = 0; count > FAN; level++) {
    const blocks = Math.ceil(count / FAN);
    const lows = new Float64Array(blocks).fill(Infinity);
    const highs = new Float64Array(blocks).fill(-Infinity);
    for (let i = 0; i < count; i++) {
      const block = Math.floor(i / FAN);
      const a = level === 0 ? sampleAt(samples, i) : low[level - 1][i];
      const b = level === 0 ? a : high[level - 1][i];
      if (level === 0 && !Number.isFinite(a)) continue;
      if (a < lows[block]) lows[block] = a;
      if (b > highs[block]) highs[block] = b;
    }
    low.push(lows);
    high.push(highs);
    count = blocks;
  }
  return { samples, low, high };
}

/** Room for `extentOf`. */
export interface Extent {
  low: number;
  high: number;
}

/** The lowest and highest finite number of the samples `from`..`to` (exclusive) into `out`; Infinity and -Infinity for none. */
export function extentOf({ samples, low, high }: Extents, from: number, to: number, out: Extent): Extent {
  out.low = Infinity;
  out.high = -Infinity;
  for (let i = from; i < to;) {
    let level = 0;
    let size = 1;
    while (level < low.length && i % (size * FAN) === 0 && i + size * FAN <= to) {
      size *= FAN;
      level += 1;
    }
    const a = level === 0 ? sampleAt(samples, i) : low[level - 1][i / size];
    const b = level === 0 ? a : high[level - 1][i / size];
    if (level > 0 || Number.isFinite(a)) {
      if (a < out.low) out.low = a;
      if (b > out.high) out.high = b;
    }
    i += size;
  }
  return out;
}
