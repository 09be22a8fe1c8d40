import { polynomialAt } from "./polynomial.ts";
import { distinctTimes } from "./same-time.ts";
import { isSteady, playedAt, writeWritten, type Clock } from "./clock.ts";
import { curveOf, type TimedPiece } from "./join-curves.ts";
import { pieceAt, writeSeries, type Piecewise } from "./piecewise.ts";
import { ROOM } from "./series.ts";
import { piecePolynomial } from "./solved-path.ts";

/** A fitted piece is this near to the curve, as a share of what it covers. Pinned by `clock.test.ts`. */
const FITS = 1e-10;
/** Rounding of a value, as a share of it: nothing is nearer. */
const ROUNDING = 1e-14;
/** Shortest fitted piece, as a share of the stretch that one polynomial and one piece of the clock cover. */
const SHORTEST = 2 ** -12;
const PROBES = [0.12, 0.3, 0.5, 0.7, 0.88];

/**
 * A curve over written time as a curve over played time. Where the speed stays it is the same polynomial over other times;
 * where it changes, pieces of degree 9 that meet value and four derivatives at both ends, so what was C2 stays it.
 *
 * @param curve Degree 5 at most.
 */
export function clockedCurve(curve: Piecewise, clock: Clock): Piecewise {
  if (curve.degree === 0) return curve;
  const ends = Array.from(curve.times, (written) => playedAt(clock, written));
  const turns = Array.from(clock.curve.times).filter((_, i) => turnsAt(clock, i));
  const inner = turns.filter((t) => ends[0] < t && t < ends[ends.length - 1]);
  const times = distinctTimes([...ends, ...inner].sort((a, b) => a - b));
  const pieces: TimedPiece[] = [];
  for (let i = 0; i + 1 < times.length; i++) {
    const [from, to] = [times[i], times[i + 1]];
    const middle = (from + to) / 2;
    const room = new Float64Array(ROOM);
    writeWritten(clock, middle, 0, room);
    const piece = pieceAt(curve.times, room[0], "right");
    if (isInStep(clock, middle)) pieces.push({ from, to, coefficients: inStep(curve, piece, clock, from, to) });
    else for (const one of fitted(curve, piece, clock, from, to)) pieces.push(one);
  }
  return curveOf(pieces);
}

/** True for an end of a piece in which the share changes. */
function turnsAt(clock: Clock, end: number): boolean {
  const pieces = clock.curve.times.length - 1;
  return (0 < end && !isSteady(clock, end - 1)) || (end < pieces && !isSteady(clock, end));
}

function isInStep(clock: Clock, t: number): boolean {
  const { times } = clock.curve;
  if (t <= times[0] || times[times.length - 1] <= t) return true;
  return isSteady(clock, pieceAt(times, t, "right"));
}

/** The part of one polynomial that runs from `from` to `to`, which the clock stretches evenly. */
function inStep(curve: Piecewise, piece: number, clock: Clock, from: number, to: number): number[] {
  const room = new Float64Array(ROOM);
  const start = curve.times[piece];
  const length = curve.times[piece + 1] - start;
  const share = (t: number): number => {
    writeWritten(clock, t, 0, room);
    const s = (room[0] - start) / length;
    // A whole piece stays what it is, not what rounding makes of it.
    return Math.abs(s) < 1e-12 ? 0 : Math.abs(s - 1) < 1e-12 ? 1 : s;
  };
  const [a, b] = [share(from), share(to)];
  const width = curve.degree + 1;
  const c = Array.from(curve.coefficients.subarray(piece * width, (piece + 1) * width));
  if (a === 0 && b === 1) return c;
  // Taylor's shift to a, then the scale b - a.
  for (let k = 0; k < width; k++) for (let n = width - 2; k <= n; n--) c[n] += a * c[n + 1];
  return c.map((value, k) => value * (b - a) ** k);
}

/** One polynomial of the curve within one piece of the clock, and room to write in. */
interface Link {
  readonly curve: Piecewise;
  readonly piece: number;
  readonly clock: Clock;
  readonly clockPiece: number;
  readonly inner: Float64Array;
  readonly outer: Float64Array;
}

function fitted(curve: Piecewise, piece: number, clock: Clock, from: number, to: number): TimedPiece[] {
  const clockPiece = pieceAt(clock.curve.times, (from + to) / 2, "right");
  const room = { inner: new Float64Array(ROOM), outer: new Float64Array(ROOM) };
  const link: Link = { curve, piece, clock, clockPiece, ...room };
  const pieces: TimedPiece[] = [];
  let left = composed(link, from);
  let start = from;
  const ends = [to];
  while (0 < ends.length) {
    const end = ends[ends.length - 1];
    const right = composed(link, end);
    const coefficients = piecePolynomial(left, 0, right, 0, end - start, 0);
    if (end - start <= SHORTEST * (to - from) || fits(coefficients, link, start, end)) {
      pieces.push({ from: start, to: end, coefficients });
      left = right;
      start = end;
      ends.pop();
    } else ends.push((start + end) / 2);
  }
  return pieces;
}

function fits(coefficients: readonly number[], link: Link, start: number, end: number): boolean {
  const first = coefficients[0];
  let covered = 0;
  let off = 0;
  for (const s of PROBES) {
    const wanted = valueIn(link, start + s * (end - start));
    const value = polynomialAt(coefficients, s);
    covered = Math.max(covered, Math.abs(wanted - first));
    off = Math.max(off, Math.abs(value - wanted));
  }
  // Rounding of the written time moves the value along with it.
  writeSeries(link.curve, link.piece, withinPiece(link, link.inner[0]), 1, link.outer, 0);
  const drift = Math.abs(link.inner[0] * link.outer[1]);
  return off <= FITS * covered + ROUNDING * (Math.abs(first) + drift);
}

function valueIn(link: Link, t: number): number {
  writeSeries(link.clock.curve, link.clockPiece, t, 0, link.inner, 0);
  writeSeries(link.curve, link.piece, withinPiece(link, link.inner[0]), 0, link.outer, 0);
  return link.outer[0];
}

/** Taylor coefficients in played time of the curve at `t`. */
function composed(link: Link, t: number): Float64Array {
  writeSeries(link.clock.curve, link.clockPiece, t, ROOM - 1, link.inner, 0);
  writeSeries(link.curve, link.piece, withinPiece(link, link.inner[0]), ROOM - 1, link.outer, 0);
  return chained(link.outer, link.inner);
}

/** Rounding leads no farther than the ends of the polynomial. */
function withinPiece({ curve, piece }: Link, written: number): number {
  return Math.min(Math.max(written, curve.times[piece]), curve.times[piece + 1]);
}

/** The series of f(u(t)) from that of f at u(t) and that of u at t: Horner's scheme in u - u(t), in place. */
function chained(f: Float64Array, u: Float64Array): Float64Array {
  const sum = new Float64Array(ROOM);
  for (let n = ROOM - 1; 0 <= n; n--) {
    for (let k = ROOM - 1; 0 <= k; k--) {
      let next = 0;
      for (let j = 1; j <= k; j++) next += sum[k - j] * u[j];
      sum[k] = next;
    }
    sum[0] += f[n];
  }
  return sum;
}
