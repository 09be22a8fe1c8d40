import { sampleBefore, shareOfWay } from "../../core/base/sampling.ts";

/** Numbers over time without a copy of the table that they stand in: number i is `table[offset + i * stride] * factor + shift`. */
export interface Samples {
  /** Ascending [s], shape (n,). */
  readonly times: Float64Array;
  readonly table: Float64Array;
  readonly offset: number;
  readonly stride: number;
  readonly factor: number;
  readonly shift: number;
}

/** @param values Shape (n,). */
export function samplesOf(times: Float64Array, values: Float64Array): Samples {
  return { times, table: values, offset: 0, stride: 1, factor: 1, shift: 0 };
}

/** A column of a table of shape (n, `stride`). */
export function columnOf(
  times: Float64Array,
  table: Float64Array,
  offset: number,
  stride: number,
  factor = 1,
  shift = 0,
): Samples {
  return { times, table, offset, stride, factor, shift };
}

export function sampleAt(samples: Samples, i: number): number {
  return samples.table[samples.offset + i * samples.stride] * samples.factor + samples.shift;
}

/** Straight between the samples around `time`; beyond the ends the first or last, and NaN where one of the two is no number. */
export function valueAt(samples: Samples, time: number): number {
  const { times } = samples;
  if (times.length < 2) return times.length === 1 ? sampleAt(samples, 0) : NaN;
  const i = sampleBefore(times, time);
  const share = shareOfWay(times, i, time);
  const a = sampleAt(samples, i);
  if (share <= 0) return a;
  const b = sampleAt(samples, i + 1);
  return share >= 1 ? b : a + (b - a) * share;
}
