import type { Task } from "../../base/task.ts";
import { createSensitivity } from "../../repeat/sensitivity.ts";
import { quickRadius, radiusHolding, spreadOf, type Spread } from "../../repeat/spread.ts";
import type { CheckContext } from "../check.ts";
import { subjectIndex } from "../picture/subject.ts";
import { isWorse, refinePeak } from "../scan/peak.ts";
import { scanTimes } from "../scan/scan.ts";
import { passAxes, type PassAxes } from "./pass-axes.ts";

/** How far a pass is off another one, or off what is drawn, at one instant [captured px]. */
export interface PassError {
  readonly t: number;
  /** One standard deviation, in the direction in which it spreads most. */
  readonly sigma: number;
  /** The radius that holds 95 %. */
  readonly p95: number;
}

/** The share that a radius is told for. */
export const SHARE = 0.95;

/** A spread as what is told of it. */
export const passErrorOf = (t: number, spread: Spread): PassError => ({
  t,
  sigma: spread.major,
  p95: radiusHolding(spread, SHARE),
});

/** What errors of the axes do to the picture of what is aimed at, over a whole move. */
export interface PassScan extends PassAxes {
  /**
   * Captured px that the subject moves per m or rad of each axis at an instant [s], shape (k, 2), in room that the next call
   * writes again; NaN where nothing is aimed at or seen.
   */
  columnsAt(t: number): Float64Array;
  /**
   * The worst instant of a move, looked for between the samples too; `undefined` where nothing is aimed at or seen.
   *
   * @param variances Of each axis [m² or rad²], shape (k,).
   */
  worst(variances: ArrayLike<number>): PassError | undefined;
}

/**
 * Looks at a whole move, but at intervals that were seen before an edit. Made once for a trajectory.
 *
 * @returns `undefined` for a rig that states nothing of how it repeats.
 */
export function* passScan(context: CheckContext): Task<PassScan | undefined> {
  const { trajectory, seen } = context;
  const made = seen.table<PassScan>("pass scan");
  const known = made.get(trajectory);
  if (known) return known;
  const axes = yield* passAxes(context);
  if (axes.axes.length === 0) return undefined;
  const scan = yield* lookAt(context, axes);
  made.set(trajectory, scan);
  return scan;
}

function* lookAt({ move, trajectory, seen }: CheckContext, { axes, ways }: PassAxes): Task<PassScan> {
  const { knots, intervals } = trajectory;
  const width = 2 * axes.length;
  const indices = axes.map(({ axis }) => axis);
  const sensitivity = createSensitivity(move, indices);
  const instant = trajectory.createInstant();
  const write = (time: number, out: Float64Array): void => {
    trajectory.poseAt(time, instant);
    const target = subjectIndex(instant);
    if (target < 0 || !sensitivity(instant, target, out)) out.fill(NaN);
  };
  const t = scanTimes(trajectory);
  const pieces = seen.table<Float64Array>("pass columns");
  const columns = new Float64Array(width * t.length);
  let first = 0;
  for (let i = 0; i + 1 < knots.length; i++) {
    let count = 0;
    while (first + count < t.length && t[first + count] < knots[i + 1]) count++;
    let piece = pieces.get(intervals[i]);
    if (piece?.length !== width * count) {
      piece = new Float64Array(width * count);
      for (let n = 0; n < count; n++) write(t[first + n], piece.subarray(width * n, width * (n + 1)));
      pieces.set(intervals[i], piece);
      if (i % 16 === 15) yield;
    }
    columns.set(piece, width * first);
    first += count;
  }
  for (; first < t.length; first++) write(t[first], columns.subarray(width * first, width * (first + 1)));
  const room = new Float64Array(width);
  const columnsAt = (time: number): Float64Array => {
    write(time, room);
    return room;
  };
  return {
    axes,
    ways,
    columnsAt,
    worst(variances) {
      const radius = (of: Float64Array): number => quickRadius(spreadOf(of, variances));
      const row = Float64Array.from(t, (_, n) => radius(columns.subarray(width * n, width * (n + 1))));
      const at = worstTime(t, row, (time) => radius(columnsAt(time)));
      return at === undefined ? undefined : passErrorOf(at, spreadOf(columnsAt(at), variances));
    },
  };
}

/** When a sampled value is highest, looked for between the samples too [s]; `undefined` for one that is NaN everywhere. */
function worstTime(t: Float64Array, row: Float64Array, at: (t: number) => number): number | undefined {
  let best: { t: number; value: number } | undefined;
  for (let i = 0; i < row.length; i++) {
    if (!Number.isNaN(row[i]) && (!best || isWorse(row[i], best.value))) best = { t: t[i], value: row[i] };
  }
  if (!best) return undefined;
  for (let i = 0; i < row.length; i++) {
    const [before, after] = [row[Math.max(0, i - 1)], row[Math.min(row.length - 1, i + 1)]];
    const rise = row[i] - Math.min(before, after);
    if (row[i] < before || row[i] < after || !(rise > 0) || !isWorse(row[i] + rise, best.value)) continue;
    const [lo, hi] = [t[Math.max(0, i - 1)], t[Math.min(t.length - 1, i + 1)]];
    const peak = refinePeak(lo, hi, { t: t[i], value: row[i] }, at);
    if (isWorse(peak.value, best.value)) best = peak;
  }
  return best.t;
}
