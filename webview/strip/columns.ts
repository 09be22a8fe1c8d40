import { firstFrom } from "../../core/base/sampling.ts";

/** Where the samples of columns of px begin: the same for all lines over the same times, so it is looked for once a window. */
export interface Columns {
  /**
   * Index of the first sample of each of `count` equal columns of `from`..`to` [s], and last that of the first sample beyond;
   * shape (count + 1,).
   */
  startsOf(times: Float64Array, from: number, to: number, count: number): Int32Array;
}

interface Known {
  readonly from: number;
  readonly to: number;
  readonly starts: Int32Array;
}

export function createColumns(): Columns {
  const known = new WeakMap<Float64Array, Known>();
  return {
    startsOf(times, from, to, count) {
      const last = known.get(times);
      if (last?.from === from && last.to === to && last.starts.length === count + 1) return last.starts;
      const starts = new Int32Array(count + 1);
      const end = firstFrom(times, to);
      starts[count] = end < times.length && times[end] === to ? end + 1 : end;
      for (let column = 0; column < count; column++) {
        const time = from + (column * (to - from)) / count;
        starts[column] = firstFrom(times, time, column === 0 ? 0 : starts[column - 1]);
      }
      known.set(times, { from, to, starts });
      return starts;
    },
  };
}
