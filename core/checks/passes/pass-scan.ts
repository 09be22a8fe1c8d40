import type { Task } from "../../base/task.ts";
import { repeatAxes, type RepeatAxis } from "../../repeat/repeat-axes.ts";
import { createSensitivity } from "../../repeat/sensitivity.ts";
import { quickRadiusOf, radiusHolding, spreadOf, type Spread } from "../../repeat/spread.ts";
import { travelAlong, travelBack } from "../../repeat/travel.ts";
import type { CheckContext } from "../check.ts";
import { subjectIndex } from "../../motion/subject-index.ts";
import { passRows } from "./pass-watch.ts";
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

/**
 * Made once for a trajectory.
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

function* lookAt(context: CheckContext, axes: readonly RepeatAxis[]): Task<PassScan> {
  const { move, trajectory } = context;
  const { t, firsts, row } = yield* context.scan("passes");
  const width = 2 * axes.length;
  const columns = new Float64Array(width * t.length);
  const ways = new Float64Array(axes.length);
  for (let k = 0; k < axes.length; k++) {
    const [across, down, values] = passRows(k).map(row);
    for (let n = 0; n < t.length; n++) {
      columns[width * n + 2 * k] = across[n];
      columns[width * n + 2 * k + 1] = down[n];
    }
    if (!(axes[k].slip > 0)) continue;
    for (let i = 1; i < firsts.length; i++) ways[k] += travelAlong(values.subarray(firsts[i - 1], firsts[i] + 1));
    ways[k] += travelBack(trajectory, axes[k].axis, ways[k]);
  }
  const sensitivity = createSensitivity(
    move,
    axes.map(({ axis }) => axis),
  );
  const instant = trajectory.createInstant();
  const room = new Float64Array(width);
  const write = (time: number): void => {
    trajectory.poseAt(time, instant);
    const target = subjectIndex(instant);
    if (target < 0 || !sensitivity(instant, target, room)) room.fill(NaN);
  };
  const columnsAt = (time: number): Float64Array => {
    write(time);
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
