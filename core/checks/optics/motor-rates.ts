import type { LensMotor } from "../../lens/lens-motor.ts";
import { boundScale } from "../../lens/scale-bounds.ts";
import { runToEnd, type Task } from "../../base/task.ts";
import type { Instant, Side, Trajectory } from "../../motion/trajectory.ts";
import { LIMIT_ORDER, type LimitName } from "../axes/axis-limit.ts";
import { isWorse, refinePeak } from "../scan/peak.ts";
import { exceedings, partsOf, type Exceeding, type Scan } from "../scan/scan.ts";
import type { Seen } from "../seen.ts";
import { SCAN_TIME } from "../thresholds.ts";
import { LIMIT_NAMES, motorRow, motorWatch, OFF_SCALE, PLACE, PLACE_RATES, ROWS } from "./motor-watch.ts";

/** The motors of a trajectory, looked at in any instant and either side of a knot, where jerk steps. */
export interface MotorLook {
  readonly trajectory: Trajectory;
  readonly motors: readonly LensMotor[];
  readonly instant: Instant;
  /** Writes all motors' numbers at `t` into `row`, shape (motors, ROWS): -Infinity where there is none. */
  readonly write: (t: number, side: Side, row: Float64Array) => void;
}

export function motorLook(trajectory: Trajectory, motors: readonly LensMotor[]): MotorLook {
  const instant = trajectory.createInstant();
  const watch = motorWatch(motors, trajectory.move.optics.closeFocus);
  const write = (t: number, side: Side, row: Float64Array): void => {
    trajectory.at(t, instant, side);
    watch.record(instant, row, 0);
  };
  return { trajectory, motors, instant, write };
}

/** A stretch of time in which one number of one motor is above a bound, and the side of its worst instant. */
export interface MotorSpan extends Exceeding {
  readonly side: Side;
}

/** Numbers of all motors at instants of one interval, both ends from within, shape (motors · ROWS, instants). */
interface IntervalRows {
  readonly t: Float64Array;
  readonly rows: readonly Float64Array[];
}

/** All intervals of the move; those that are known from before an edit are not looked at again. */
export function* motorRows(look: MotorLook, scan: Scan, seen: Seen): Task<readonly IntervalRows[]> {
  const { intervals, knots } = look.trajectory;
  const table = seen.table<IntervalRows>("motors");
  const out: IntervalRows[] = [];
  for (let k = 0; k + 1 < knots.length; k++) {
    let known = table.get(intervals[k]);
    if (known?.t[0] !== knots[k] || known.t[known.t.length - 1] !== knots[k + 1]) {
      const coarse = scannedRows(look, scan, k);
      known = staysBelow(look.motors, coarse) ? coarse : yield* denseRows(look, coarse);
      table.set(intervals[k], known);
      yield;
    }
    out.push(known);
  }
  return out;
}

/** What the scan of the move saw of an interval, and its end seen from within. */
function scannedRows({ motors, write, trajectory: { knots } }: MotorLook, scan: Scan, k: number): IntervalRows {
  const [first, next] = [scan.firsts[k], scan.firsts[k + 1]];
  const last = new Float64Array(motors.length * ROWS);
  write(knots[k + 1], "left", last);
  const t = scan.t.slice(first, next + 1);
  const rows = motors.flatMap((_, m) =>
    Array.from({ length: ROWS }, (_, n) => {
      const row = scan.row(motorRow(m, n)).slice(first, next + 1);
      row[next - first] = last[m * ROWS + n];
      return row;
    }),
  );
  return { t, rows };
}

/** So many times as fast as it was seen nothing is between two instants. */
const UNSEEN = 2;

/**
 * True where no motor can pass a limit or leave its scale, whatever its scale does between the instants: by the chain rule,
 * with the steepest that the part of the scale is which is passed.
 */
function staysBelow(motors: readonly LensMotor[], { t, rows }: IntervalRows): boolean {
  const step = t.length < 2 ? 0 : (t[t.length - 1] - t[0]) / (t.length - 1);
  return motors.every(({ scale, limits }, m) => {
    const places = rows[m * ROWS + PLACE];
    const [v, a, j] = [0, 1, 2].map((n) => UNSEEN * highest(rows[m * ROWS + PLACE_RATES + n]));
    const [low, high] = [-highest(places.map((place) => -place)), highest(places)];
    if (!Number.isFinite(low) || !Number.isFinite(v + a + j)) return false;
    const beyond = (v * step) / 2;
    const { places: ends } = scale;
    if (low - beyond < ends[0] || ends[ends.length - 1] < high + beyond) return false;
    const [s1, s2, s3] = boundScale(scale, low - beyond, high + beyond);
    const most = { speed: s1 * v, accel: s2 * v * v + s1 * a, jerk: s3 * v * v * v + 3 * s2 * v * a + s1 * j };
    return LIMIT_NAMES.every((name) => !((limits[name] ?? Infinity) < most[name]));
  });
}

const highest = (row: Float64Array): number => row.reduce((most, value) => (most < value ? value : most), -Infinity);

/** Instants more for each row of a scale that a motor passes: between two rows its jerk turns this often at most, about. */
const A_ROW = 6;

/** Looks at the part of an interval from `from` to `to`, at instants as dense as the scales passed need. */
function* intervalRows(look: MotorLook, k: number, from: number, to: number): Task<IntervalRows> {
  return yield* denseRows(look, yield* lookAtTimes(look, between(from, to, partsOf(look.trajectory, k))));
}

/** The same stretch of time at instants as dense as the scales passed in it need. */
function* denseRows(look: MotorLook, coarse: IntervalRows): Task<IntervalRows> {
  const { t } = coarse;
  const passed = look.motors.map(({ scale }, m) => {
    const places = coarse.rows[m * ROWS + PLACE].filter((place) => place !== -Infinity);
    const [low, high] = [-highest(places.map((place) => -place)), highest(places)];
    return low < high ? 1 + scale.places.filter((place) => low <= place && place <= high).length : 0;
  });
  const most = Math.max(...passed);
  return most === 0 ? coarse : yield* lookAtTimes(look, between(t[0], t[t.length - 1], t.length - 1 + A_ROW * most));
}

function between(from: number, to: number, parts: number): Float64Array {
  return Float64Array.from({ length: parts + 1 }, (_, i) => (i === parts ? to : from + ((to - from) * i) / parts));
}

function* lookAtTimes({ motors, write }: MotorLook, t: Float64Array): Task<IntervalRows> {
  const rows = Array.from({ length: motors.length * ROWS }, () => new Float64Array(t.length));
  const at = new Float64Array(motors.length * ROWS);
  for (let i = 0; i < t.length; i++) {
    write(t[i], sideIn(t, t[i]), at);
    rows.forEach((row, n) => (row[i] = at[n]));
    if (i % 256 === 255) yield;
  }
  return { t, rows };
}

/** Within an interval all sides are one; its end is seen from within. */
const sideIn = (t: Float64Array, time: number): Side => (time === t[t.length - 1] && 1 < t.length ? "left" : "right");

/** Spans in which a rate of motor `m` is above `bound`, refined between the samples and on both sides of knots. */
export function ratesAbove(
  look: MotorLook,
  intervals: readonly IntervalRows[],
  m: number,
  limit: LimitName,
  bound: number,
): Task<readonly MotorSpan[]> {
  return spansAbove(look, intervals, m * ROWS + LIMIT_ORDER[limit] - 1, bound);
}

/** Spans in which motor `m` is off its scale; values are shares of the scale's length. */
export function offScaleSpans(
  look: MotorLook,
  intervals: readonly IntervalRows[],
  m: number,
): Task<readonly MotorSpan[]> {
  return spansAbove(look, intervals, m * ROWS + OFF_SCALE, SCALE_SLACK);
}

/** Share of a scale's length that rounding may take. */
const SCALE_SLACK = 1e-9;

function* spansAbove(
  { motors, write }: MotorLook,
  intervals: readonly IntervalRows[],
  n: number,
  bound: number,
): Task<readonly MotorSpan[]> {
  const at = new Float64Array(motors.length * ROWS);
  const out: MotorSpan[] = [];
  for (const { t, rows } of intervals) {
    const valueAt = (time: number): number => {
      write(time, sideIn(t, time), at);
      return at[n];
    };
    for (const span of yield* exceedings(t, rows[n], bound, valueAt)) {
      const next = { ...span, side: sideIn(t, span.worst) };
      const last = out[out.length - 1];
      // A span that goes on over a knot is one.
      if (last && next.from - last.to <= SCAN_TIME) out[out.length - 1] = joined(last, next);
      else out.push(next);
    }
  }
  return out;
}

function joined(a: MotorSpan, b: MotorSpan): MotorSpan {
  const { worst, value, side } = isWorse(b.value, a.value) ? b : a;
  return { from: a.from, to: b.to, worst, value, side };
}

/** The largest rate of one motor from `from` to `to` [s], peaks between samples included. */
function worstRate(look: MotorLook, m: number, limit: LimitName, from: number, to: number): number {
  const { write, motors } = look;
  const { knots } = look.trajectory;
  const n = m * ROWS + LIMIT_ORDER[limit] - 1;
  const at = new Float64Array(motors.length * ROWS);
  let worst = 0;
  for (let k = 0; k + 1 < knots.length; k++) {
    const [start, end] = [Math.max(from, knots[k]), Math.min(to, knots[k + 1])];
    if (!(start < end)) continue;
    const { t, rows } = runToEnd(intervalRows(look, k, start, end));
    const valueAt = (time: number): number => {
      write(time, sideIn(t, time), at);
      return at[n];
    };
    rows[n].forEach((value, i) => {
      const [lo, hi] = [Math.max(0, i - 1), Math.min(t.length - 1, i + 1)];
      const isPeak = rows[n][lo] <= value && rows[n][hi] <= value && Math.min(rows[n][lo], rows[n][hi]) < value;
      const peak = isPeak ? refinePeak(t[lo], t[hi], { t: t[i], value }, valueAt).value : value;
      worst = Math.max(worst, peak);
    });
  }
  return worst;
}

/**
 * Largest share of the limits of one motor from `from` to `to` [s], each above 1 by the root that its order stretches it with:
 * by about as much the time must grow.
 */
export function motorExcess(trajectory: Trajectory, motor: LensMotor, from: number, to: number): number {
  const look = motorLook(trajectory, [motor]);
  return LIMIT_NAMES.reduce((excess, name) => {
    const most = motor.limits[name];
    const share = most === undefined ? 0 : worstRate(look, 0, name, from, to) / most;
    return Math.max(excess, share <= 1 ? share : share ** (1 / LIMIT_ORDER[name]));
  }, 0);
}
