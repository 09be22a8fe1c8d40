import type { Task } from "../../base/task.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant, Trajectory } from "../../motion/trajectory.ts";
import { isWorse, refinePeak, type Peak } from "./peak.ts";
import { scanTimes } from "./scan.ts";

/** A number of one instant; NaN where it has none. */
export type Quantity = (instant: Instant, move: ResolvedMove) => number;

export interface SampledExtremes {
  readonly low: Peak;
  readonly high: Peak;
  /** The first instant at which the quantity has no value [s]. */
  readonly without?: number;
}

/**
 * Lowest and highest value of a quantity from `from` to `to` [s], refined between the samples.
 *
 * @param look `rates` for a quantity that hangs on speeds; without them an instant takes half the time.
 */
export function* sampledExtremes(
  trajectory: Trajectory,
  quantity: Quantity,
  from: number,
  to: number,
  look: "poses" | "rates",
): Task<SampledExtremes> {
  const instant = trajectory.createInstant();
  const valueAt = (t: number): number => {
    if (look === "poses") trajectory.poseAt(t, instant);
    else trajectory.at(t, instant);
    return quantity(instant, trajectory.move);
  };
  const times = [from, ...scanTimes(trajectory).filter((t) => from < t && t < to), ...(from < to ? [to] : [])];
  const row = new Float64Array(times.length);
  let without: number | undefined;
  for (let i = 0; i < times.length; i++) {
    row[i] = valueAt(times[i]);
    if (Number.isNaN(row[i])) without ??= times[i];
    if (i % 256 === 255) yield;
  }
  const high = yield* highest(times, row, valueAt);
  const low = yield* highest(
    times,
    row.map((value) => -value),
    (t) => -valueAt(t),
  );
  return { low: { t: low.t, value: -low.value }, high, ...(without === undefined ? {} : { without }) };
}

/** Peaks that are looked at more closely between two yields. */
const SLICE = 16;

function* highest(times: readonly number[], row: Float64Array, at: (t: number) => number): Task<Peak> {
  const first = Math.max(
    0,
    row.findIndex((value) => !Number.isNaN(value)),
  );
  let best: Peak = { t: times[first], value: row[first] };
  let closely = 0;
  for (let i = first; i < row.length; i++) if (isWorse(row[i], best.value)) best = { t: times[i], value: row[i] };
  for (let i = 0; i < row.length; i++) {
    const [before, after] = [row[Math.max(0, i - 1)], row[Math.min(row.length - 1, i + 1)]];
    // A peak may rise between the samples by as much as it has risen since a neighbour.
    const rise = row[i] - Math.min(before, after);
    if (row[i] < before || row[i] < after || !(rise > 0) || !isWorse(row[i] + rise, best.value)) continue;
    const [lo, hi] = [times[Math.max(0, i - 1)], times[Math.min(times.length - 1, i + 1)]];
    if (++closely % SLICE === 0) yield;
    const peak = refinePeak(lo, hi, { t: times[i], value: row[i] }, at);
    if (isWorse(peak.value, best.value)) best = peak;
  }
  return best;
}
