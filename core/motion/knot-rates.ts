import type { KnotRates } from "./jerk-bowl.ts";
import { settledWindow, type KeptWindows } from "./kept-windows.ts";
import { settleWindow } from "./rate-window.ts";

/**
 * Knots on either side of a block that are solved with it. What a knot does to others falls by 0.43 a knot (the poles of
 * the quintic spline: Unser, Aldroubi and Eden 1993), so that of a guess beyond the window less than 1e-4 is left.
 */
const MARGIN = 10;
/** A block begins at about one knot in so many, and after so many at the latest. */
const BLOCK = 12;
const LONGEST = 24;
/** As many knots as one window takes at most: so many are solved as one. */
const WHOLE = LONGEST + 2 * MARGIN;

/**
 * Chooses speed and acceleration at the knots of a piecewise quintic: the curve of least squared jerk among those that
 * stay monotone between neighbouring knots.
 *
 * Runs of knots between two whose rates are given are solved each by itself. A long run is solved in blocks, each with a
 * margin of further knots, so that an edit changes rates near it and leaves those further off as they were, bit for bit.
 * Whether a knot begins a block is read off its time alone: knots that come or go leave the blocks beyond as they were.
 *
 * @param times  Ascending, shape (n,) [s].
 * @param values Shape (n,).
 * @param fixed  Knots whose rates are given and stay; both ends must be.
 * @param rates  In: rates of the fixed knots. Out: all rates. Where the data turn the speed is 0; beside equal
 *               neighbours speed and acceleration are 0.
 * @param windows What was settled before for the same numbers; only the time depends on it.
 */
export function chooseKnotRates(
  times: Float64Array,
  values: Float64Array,
  fixed: readonly boolean[],
  rates: KnotRates,
  windows?: KeptWindows,
): void {
  let begin = 0;
  for (let i = 1; i < values.length; i++) {
    if (!fixed[i] && values[i] !== values[i - 1] && values[i] !== values[i + 1]) continue;
    if (begin + 1 < i) settleRun(times, values, rates, begin, i, windows);
    begin = i;
  }
}

/** Rates of the knots between `begin` and `end`, whose own are given. */
function settleRun(
  times: Float64Array,
  values: Float64Array,
  rates: KnotRates,
  begin: number,
  end: number,
  windows: KeptWindows | undefined,
): void {
  if (end - begin <= WHOLE) return keepWindow(windows, times, values, rates, begin, end, begin + 1, end);
  const stamp = new Float64Array(1);
  const bits = new Uint32Array(stamp.buffer);
  const joints = [];
  for (let first = begin + 1; first < end;) {
    let next = first + 1;
    while (next < end && next - first < LONGEST && !beginsBlock(times[next], stamp, bits)) next++;
    const from = Math.max(begin, first - MARGIN);
    const to = Math.min(end, next - 1 + MARGIN);
    keepWindow(windows, times, values, rates, from, to, first, next, begin, end);
    if (next < end) joints.push(next);
    first = next;
  }
  for (const joint of joints) fitJoint(times, values, rates, joint);
}

/** True for about one time in `BLOCK`. */
function beginsBlock(time: number, stamp: Float64Array, bits: Uint32Array): boolean {
  stamp[0] = time;
  // Multiplicative hashing; its high bits depend on all of the time's.
  const hash = Math.imul(Math.imul(bits[0], 0x85ebca6b) ^ bits[1], 0x9e3779b1) >>> 0;
  return hash < 2 ** 32 / BLOCK;
}

/** Solves knots `from`..`to` and keeps the rates of `first`..`next` - 1. At a cut within begin..end rates are guessed. */
function keepWindow(
  windows: KeptWindows | undefined,
  times: Float64Array,
  values: Float64Array,
  rates: KnotRates,
  from: number,
  to: number,
  first: number,
  next: number,
  begin = from,
  end = to,
): void {
  const window = { speed: new Float64Array(to - from + 1), accel: new Float64Array(to - from + 1) };
  for (const cut of [from, to]) {
    window.speed[cut - from] = begin < cut && cut < end ? guessedSpeed(times, values, cut) : rates.speed[cut];
    window.accel[cut - from] = begin < cut && cut < end ? 0 : rates.accel[cut];
  }
  settledWindow(windows, times.subarray(from, to + 1), values.subarray(from, to + 1), window, settleWindow);
  for (let i = first; i < next; i++) {
    rates.speed[i] = window.speed[i - from];
    rates.accel[i] = window.accel[i - from];
  }
}

/** Harmonic mean of the slopes on both sides, 0 where they differ in sign: it keeps both pieces monotone. */
function guessedSpeed(times: Float64Array, values: Float64Array, i: number): number {
  const a = (values[i] - values[i - 1]) / (times[i] - times[i - 1]);
  const b = (values[i + 1] - values[i]) / (times[i + 1] - times[i]);
  return a * b <= 0 ? 0 : (2 * a * b) / (a + b);
}

/**
 * The piece that ends at knot `i` has one end from each of two windows, which dealt out its room each for itself. Where
 * both take more than there is, both rates shrink towards 0, which all their other bounds allow.
 */
function fitJoint(times: Float64Array, values: Float64Array, { speed, accel }: KnotRates, i: number): void {
  const h = times[i] - times[i - 1];
  const rise = values[i] - values[i - 1];
  const left = (2 * speed[i - 1] * h + (accel[i - 1] * h * h) / 4) / rise;
  const right = (2 * speed[i] * h - (accel[i] * h * h) / 4) / rise;
  if (left + right <= 5) return;
  const share = 5 / (left + right);
  for (const k of [i - 1, i]) {
    speed[k] *= share;
    accel[k] *= share;
  }
}
