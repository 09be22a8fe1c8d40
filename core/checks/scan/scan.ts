import type { Task } from "../../base/task.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant, Trajectory } from "../../motion/trajectory.ts";
import { isWorse, refinePeak } from "./peak.ts";
import { SCAN_LEAST, SCAN_MOST, SCAN_STEP, SCAN_TIME } from "../thresholds.ts";

/**
 * A number of one instant that is bad when it is high; -Infinity where it does not apply, never NaN. It hangs on the
 * instant's pose, picture and status, whose rates are not computed unless the scan looks at them, and on all of the move
 * but its keys.
 */
export type Measure = (instant: Instant, move: ResolvedMove) => number;

/** A stretch of time in which a measure is above a bound, and its worst instant; the first of equally bad ones. */
export interface Exceeding {
  readonly from: number;
  readonly to: number;
  readonly worst: number;
  readonly value: number;
}

/** Several measures of one move, sampled in one pass. */
export interface Scan {
  /** Shape (n,), ascending [s]; every knot is among them. */
  readonly t: Float64Array;
  /** Spans in which measure `idx` is above `bound`, their ends and peaks refined between the samples. */
  above(idx: number, bound: number): Exceeding[];
  /** The room that `look` writes into. */
  readonly instant: Instant;
  /** All that is known at `t`. */
  look(t: number): Instant;
}

/**
 * What measures were between two knots, by the interval of a trajectory: equal intervals need no second look. Whoever
 * owns it uses it with one list of measures only.
 */
export type ScanRows = WeakMap<object, Float64Array>;

/**
 * Looks at a whole move once for all `measures`, but at intervals whose `known` rows were filled before.
 *
 * @param what `rates` for measures that hang on speeds and accelerations too; an instant then takes twice the time.
 */
export function* scanMove(
  trajectory: Trajectory,
  measures: readonly Measure[],
  known: ScanRows = new WeakMap(),
  what: "poses" | "rates" = "poses",
): Task<Scan> {
  const { move, intervals } = trajectory;
  const t = scanTimes(trajectory);
  const rows = measures.map(() => new Float64Array(t.length));
  const instant = trajectory.createInstant();
  const m = measures.length;
  const write = (time: number): void => {
    if (what === "poses") trajectory.poseAt(time, instant);
    else trajectory.at(time, instant);
  };
  let seen = 0;
  let first = 0;
  for (let k = 0; first < t.length; k++) {
    // The end of the move stands by itself.
    const count = first + 1 === t.length ? 1 : partsOf(trajectory, k);
    const interval = first + 1 === t.length ? undefined : intervals[k];
    let part = interval && known.get(interval);
    if (part?.length !== m * count) {
      part = new Float64Array(m * count);
      for (let i = 0; i < count; i++) {
        write(t[first + i]);
        for (let n = 0; n < m; n++) part[n * count + i] = measures[n](instant, move);
        if (++seen % 256 === 0) yield;
      }
      if (interval) known.set(interval, part);
    }
    for (let n = 0; n < m; n++) rows[n].set(part.subarray(n * count, (n + 1) * count), first);
    first += count;
  }
  const look = (time: number): Instant => {
    trajectory.at(time, instant);
    return instant;
  };
  const valueAt = (idx: number, time: number): number => {
    write(time);
    return measures[idx](instant, move);
  };
  return {
    t,
    instant,
    look,
    above: (idx, bound) => exceedings(t, rows[idx], bound, (time) => valueAt(idx, time)),
  };
}

/** Times between the knots, near enough for what is smooth between them, and the knots themselves. */
export function scanTimes(trajectory: Pick<Trajectory, "knots" | "duration">): Float64Array {
  const { knots } = trajectory;
  const times: number[] = [];
  for (let k = 0; k + 1 < knots.length; k++) {
    const span = knots[k + 1] - knots[k];
    const parts = partsOf(trajectory, k);
    for (let i = 0; i < parts; i++) times.push(knots[k] + (span * i) / parts);
  }
  times.push(knots.length > 0 ? knots[knots.length - 1] : 0);
  return Float64Array.from(times);
}

/** Instants from knot `k` on, before the next. */
export function partsOf({ knots, duration }: Pick<Trajectory, "knots" | "duration">, k: number): number {
  const span = knots[k + 1] - knots[k];
  if (!(span > 0)) return 0;
  const step = Math.max(SCAN_STEP, (duration / SCAN_MOST) * 2);
  const least = knots.length * SCAN_LEAST > SCAN_MOST ? 1 : SCAN_LEAST;
  return Math.max(least, Math.ceil(span / step));
}

/** Spans of one sampled row above a bound, ends and peaks refined by `at` between the samples. */
export function exceedings(t: Float64Array, row: Float64Array, bound: number, at: (t: number) => number): Exceeding[] {
  const out: Exceeding[] = [];
  let open: { from: number; worst: number; value: number } | undefined;
  const raise = (time: number, value: number): void => {
    if (open && isWorse(value, open.value)) open = { ...open, worst: time, value };
  };
  for (let i = 0; i < row.length; i++) {
    const isPeak = (i === 0 || row[i] >= row[i - 1]) && (i + 1 === row.length || row[i] >= row[i + 1]);
    // Within a span only what may be worse than its worst is looked at more closely.
    const beat = open ? Math.max(bound, open.value) : bound;
    const peak =
      isPeak && mayExceed(row, i, beat)
        ? refinePeak(t[Math.max(0, i - 1)], t[Math.min(t.length - 1, i + 1)], { t: t[i], value: row[i] }, at)
        : { t: t[i], value: row[i] };
    const isHidden = row[i] <= bound && peak.value > bound;
    if (isHidden) {
      const from = crossing(at, bound, i > 0 ? t[i - 1] : t[i], peak.t);
      const to = crossing(at, bound, i + 1 < t.length ? t[i + 1] : t[i], peak.t);
      out.push({ from, to, worst: peak.t, value: peak.value });
      continue;
    }
    if (row[i] > bound) {
      open ??= { from: i > 0 ? crossing(at, bound, t[i - 1], t[i]) : t[0], worst: t[i], value: row[i] };
      raise(peak.t, peak.value);
    }
    const isLast = i + 1 === row.length;
    if (open && (isLast || row[i + 1] <= bound)) {
      out.push({ ...open, to: isLast ? t[i] : crossing(at, bound, t[i + 1], t[i]) });
      open = undefined;
    }
  }
  return out;
}

/** Whether the peak about sample `i` may rise above the bound: by as much as it has risen since a neighbour. */
function mayExceed(row: Float64Array, i: number, bound: number): boolean {
  if (!Number.isFinite(row[i])) return false;
  const before = i > 0 && Number.isFinite(row[i - 1]) ? row[i] - row[i - 1] : 0;
  const after = i + 1 < row.length && Number.isFinite(row[i + 1]) ? row[i] - row[i + 1] : 0;
  const rise = Math.max(before, after);
  // On a plateau there is no peak to look for.
  return rise > 0 && isWorse(row[i] + rise, bound);
}

/** Where the measure crosses the bound between a time below it and a time above it, by bisection. */
function crossing(at: (t: number) => number, bound: number, below: number, above: number): number {
  let [lo, hi] = [below, above];
  while (Math.abs(hi - lo) > SCAN_TIME) {
    const mid = (lo + hi) / 2;
    if (at(mid) > bound) hi = mid;
    else lo = mid;
  }
  return hi;
}
