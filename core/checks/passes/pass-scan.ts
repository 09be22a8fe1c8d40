import type { Task } from "../../base/task.ts";
import { repeatAxes, type RepeatAxis } from "../../repeat/repeat-axes.ts";
import { createSensitivity } from "../../repeat/sensitivity.ts";
import { quickRadiusOf, radiusHolding, spreadOf, type Spread } from "../../repeat/spread.ts";
import { travelAlong, travelBack } from "../../repeat/travel.ts";
import type { CheckContext } from "../check.ts";
import { subjectIndex } from "../picture/subject.ts";
import { scanTimes } from "../scan/scan.ts";
import { worstTime } from "./worst-time.ts";

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
export interface PassScan {
  readonly axes: readonly RepeatAxis[];
  /** What each axis travels in one pass, the way back included [m or rad], shape (k,); 0 for one that does not slip. */
  readonly ways: Float64Array;
  /**
   * Captured px that the subject moves per m or rad of each axis at an instant [s], shape (k, 2), in room that the next call
   * writes again; NaN where nothing is aimed at or seen.
   */
  columnsAt(t: number): Float64Array;
  /** The highest 95 % of the instants that were looked at, to 3e-5 of it; a little less than that of `worst`. */
  near(variances: ArrayLike<number>): number;
  /**
   * The worst instant of a move, looked for between the samples too; `undefined` where nothing is aimed at or seen.
   *
   * @param variances Of each axis [m² or rad²], shape (k,).
   */
  worst(variances: ArrayLike<number>): PassError | undefined;
}

/** What is kept of an interval: columns at its instants, shape (n, k, 2), and how far each axis travels in it, shape (k,). */
interface Piece {
  readonly columns: Float64Array;
  readonly travels: Float64Array;
}

/**
 * Looks at a whole move, but at intervals that were seen before an edit. Made once for a trajectory.
 *
 * @returns `undefined` for a rig that states nothing of how it repeats.
 */
export function* passScan(context: CheckContext): Task<PassScan | undefined> {
  const { move, trajectory, seen } = context;
  const made = seen.table<PassScan>("pass scan");
  const known = made.get(trajectory);
  if (known) return known;
  const axes = repeatAxes(move);
  if (axes.length === 0) return undefined;
  const scan = yield* lookAt(context, axes);
  made.set(trajectory, scan);
  return scan;
}

function* lookAt({ move, trajectory, seen }: CheckContext, axes: readonly RepeatAxis[]): Task<PassScan> {
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
  const columns = new Float64Array(width * t.length);
  const ways = new Float64Array(axes.length);
  const room = new Float64Array(width);
  const pieces = seen.table<Piece>("pass pieces");
  const look = (first: number, count: number): Piece => {
    const piece = { columns: new Float64Array(width * count), travels: new Float64Array(axes.length) };
    const values = axes.map(() => new Float64Array(count + 1));
    for (let n = 0; n <= count; n++) {
      // The instant after the last belongs to the next interval; here it ends the way of the axes.
      write(t[first + n], n < count ? piece.columns.subarray(width * n, width * (n + 1)) : room);
      for (let k = 0; k < axes.length; k++) values[k][n] = instant.value[axes[k].axis];
    }
    for (let k = 0; k < axes.length; k++) if (axes[k].slip > 0) piece.travels[k] = travelAlong(values[k]);
    return piece;
  };
  let first = 0;
  for (let i = 0; i + 1 < knots.length; i++) {
    let count = 0;
    while (first + count < t.length && t[first + count] < knots[i + 1]) count++;
    let piece = pieces.get(intervals[i]);
    if (piece?.columns.length !== width * count) {
      piece = look(first, count);
      pieces.set(intervals[i], piece);
      if (i % 16 === 15) yield;
    }
    columns.set(piece.columns, width * first);
    for (let k = 0; k < axes.length; k++) ways[k] += piece.travels[k];
    first += count;
  }
  for (; first < t.length; first++) write(t[first], columns.subarray(width * first, width * (first + 1)));
  for (let k = 0; k < axes.length; k++) {
    if (axes[k].slip > 0) ways[k] += travelBack(trajectory, axes[k].axis, ways[k]);
  }
  const columnsAt = (time: number): Float64Array => {
    write(time, room);
    return room;
  };
  const rowOf = (variances: ArrayLike<number>): Float64Array =>
    Float64Array.from(t, (_, n) => quickRadiusOf(columns, width * n, variances));
  return {
    axes,
    ways,
    columnsAt,
    near: (variances) => rowOf(variances).reduce((most, each) => (each > most ? each : most), 0),
    worst(variances) {
      const at = worstTime(t, rowOf(variances), (time) => quickRadiusOf(columnsAt(time), 0, variances));
      return at === undefined ? undefined : passErrorOf(at, spreadOf(columnsAt(at), variances));
    },
  };
}
