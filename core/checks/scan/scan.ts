import type { Task } from "../../base/task.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant, Trajectory } from "../../motion/trajectory.ts";
import { isWorse, refinePeak } from "./peak.ts";
import { keptBetween, type NearRows } from "./kept-between.ts";
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

/** Numbers of one instant that belong together, each as a `Measure` has it, a row of the scan each. */
export interface Watch<Row extends string = string> {
  readonly rows: readonly Row[];
  /** `rates` for numbers that hang on speeds and accelerations too; an instant then takes twice the time. */
  readonly look: "poses" | "rates";
  /** Writes one number a row into `out[at ..]`. */
  record(instant: Instant, out: Float64Array, at: number): void;
}

/** One measure to be watched by itself. */
export function watchOf(measure: Measure, move: ResolvedMove, look: Watch["look"]): Watch<"measured"> {
  return { rows: ["measured"], look, record: (instant, out, at) => void (out[at] = measure(instant, move)) };
}

/** What is watched of one move, sampled in one pass. */
export interface Scan<Row extends string = string> {
  /** Shape (n,), ascending [s]; every knot is among them. */
  readonly t: Float64Array;
  /** The first instant of each interval, by index into `t`, and last that of the end, shape (intervals + 1,). */
  readonly firsts: Int32Array;
  /** The numbers of a row at `t`, shape (n,). */
  row(name: Row): Float64Array;
  /** Spans in which a row is above `bound`, their ends and peaks refined between the samples. */
  above(name: Row, bound: number): Task<Exceeding[]>;
  /** The room that `look` writes into. */
  readonly instant: Instant;
  /** All that is known at `t`. */
  look(t: number): Instant;
}

/**
 * What was seen between two knots, by the interval of a trajectory: equal intervals need no second look. Whoever owns it
 * uses it with one list of watches only.
 */
export type ScanRows = WeakMap<object, Float64Array>;

/**
 * Looks once at each instant of a move for all `watches`, but at intervals whose `known` rows were filled before.
 *
 * @param near What was looked at between the samples, kept as `known` is.
 */
export function* scanMove<Row extends string>(
  trajectory: Trajectory,
  watches: readonly Watch<Row>[],
  known: ScanRows = new WeakMap(),
  near: NearRows = new WeakMap(),
): Task<Scan<Row>> {
  const { intervals } = trajectory;
  const t = scanTimes(trajectory);
  const names = watches.flatMap(({ rows }) => rows);
  const m = names.length;
  const rows = names.map(() => new Float64Array(t.length));
  const room = new Float64Array(m);
  const instant = trajectory.createInstant();
  const evaluate = (time: number, what: Watch["look"]): void => {
    if (what === "poses") trajectory.poseAt(time, instant);
    else trajectory.at(time, instant);
  };
  const most = watches.some(({ look }) => look === "rates") ? "rates" : "poses";
  const firsts: number[] = [];
  let seen = 0;
  let first = 0;
  for (let k = 0; first < t.length; k++) {
    firsts.push(first);
    // The end of the move stands by itself.
    const count = first + 1 === t.length ? 1 : partsOf(trajectory, k);
    const interval = first + 1 === t.length ? undefined : intervals[k];
    let part = interval && known.get(interval);
    if (part?.length !== m * count) {
      part = new Float64Array(m * count);
      for (let i = 0; i < count; i++) {
        evaluate(t[first + i], most);
        let at = 0;
        for (const watch of watches) {
          watch.record(instant, room, at);
          at += watch.rows.length;
        }
        for (let n = 0; n < m; n++) part[n * count + i] = room[n];
        if (++seen % 256 === 0) yield;
      }
      if (interval) known.set(interval, part);
    }
    // Few numbers at a time: views of them would take longer than they do.
    for (let n = 0; n < m; n++) for (let i = 0; i < count; i++) rows[n][first + i] = part[n * count + i];
    first += count;
  }
  const row = (name: Row): Float64Array => rows[names.indexOf(name)];
  return {
    t,
    firsts: Int32Array.from(firsts),
    instant,
    look(time) {
      trajectory.at(time, instant);
      return instant;
    },
    row,
    above(name, bound) {
      const watch = watches.find((one) => one.rows.includes(name))!;
      const n = watch.rows.indexOf(name);
      const at = (time: number): number => {
        evaluate(time, watch.look);
        watch.record(instant, room, 0);
        return room[n];
      };
      return exceedings(t, row(name), bound, keptBetween(trajectory, near, name, at));
    },
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

/** Samples that are looked at more closely between two yields: each takes some twenty looks. */
const SLICE = 16;

/** Spans of one sampled row above a bound, ends and peaks refined by `at` between the samples. */
export function* exceedings(
  t: Float64Array,
  row: Float64Array,
  bound: number,
  at: (t: number) => number,
): Task<Exceeding[]> {
  const out: Exceeding[] = [];
  let closely = 0;
  let open: { from: number; worst: number; value: number } | undefined;
  const raise = (time: number, value: number): void => {
    if (open && isWorse(value, open.value)) open = { ...open, worst: time, value };
  };
  for (let i = 0; i < row.length; i++) {
    const isPeak = (i === 0 || row[i] >= row[i - 1]) && (i + 1 === row.length || row[i] >= row[i + 1]);
    // Within a span only what may be worse than its worst is looked at more closely.
    const beat = open ? Math.max(bound, open.value) : bound;
    const isClose = isPeak && mayExceed(row, i, beat);
    const isCrossed = i + 1 < row.length && row[i] > bound !== row[i + 1] > bound;
    if ((isClose || isCrossed) && ++closely % SLICE === 0) yield;
    const peak = isClose
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
