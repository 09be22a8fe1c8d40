import { derivedOnce, polynomialAt } from "./polynomial.ts";
import { evaluateAxes } from "./evaluate.ts";
import type { Interval } from "./interval.ts";
import { isFollowed, type MoveModel } from "./move-model.ts";
import { pieceAt, writeSeries, type Piecewise } from "./piecewise.ts";
import { rootsWithin } from "./polynomial-roots.ts";
import { FACTORIAL, ROOM } from "./series.ts";
import type { SolveRoom } from "./solve-instant.ts";
import { FOLLOWED, followedMargin, piecePolynomial, TOO_STEEP, type SolvedPath } from "./solved-path.ts";
import { intervalAt } from "./tracks.ts";
import type { Extreme, Order, Side } from "./trajectory.ts";

/** An instant between which and the next a derivative of an axis is monotone, or which begins or ends a piece. */
export interface Breakpoint {
  readonly t: number;
  value: number;
  /** The right side begins a piece, the left side ends one or lies within. */
  readonly side: Side;
  readonly evidence: Extreme["evidence"];
  /** How far `value` may be off while it is only read off the path; 0 once it is exact. */
  margin: number;
}

/** What finding extremes of a model needs. */
export interface BreakRoom {
  readonly model: MoveModel;
  readonly solve: SolveRoom;
  readonly intervals: readonly Interval[];
  readonly series: Float64Array;
  /** Bernstein coefficients, shape (degree + 1,) at most. */
  readonly bernstein: Float64Array;
}

export function createBreakRoom(model: MoveModel, solve: SolveRoom, intervals: readonly Interval[]): BreakRoom {
  const degree = model.tracks.curves.reduce((most, curve) => Math.max(most, curve.degree), 2 * ROOM - 1);
  return { model, solve, intervals, series: new Float64Array(ROOM), bernstein: new Float64Array(degree + 1) };
}

/** The path of a root axis in an interval, and its place among the path's unknowns; nothing where it is not solved. */
export function pathIn(
  model: MoveModel,
  interval: number,
  axis: number,
): { readonly path: SolvedPath; readonly unknown: number } | undefined {
  const span = model.spans[model.spanOf[interval]];
  const unknown = span?.path ? span.problem!.unknown.indexOf(axis) : -1;
  return span?.path && 0 <= unknown ? { path: span.path, unknown } : undefined;
}

/** Pieces first..last of a path that lie in an interval. */
export function piecesIn(model: MoveModel, interval: number, path: SolvedPath): readonly [first: number, last: number] {
  const { knots } = model.tracks;
  return [pieceAt(path.times, knots[interval], "right"), pieceAt(path.times, knots[interval + 1], "left")];
}

/**
 * Breakpoints of derivative `order` of a root axis (one that does not follow) within one interval of the tracks, in order
 * of time: its beginning first, its end last.
 */
export function breakpointsIn(room: BreakRoom, interval: number, axis: number, order: Order): readonly Breakpoint[] {
  const { breakpoints } = room.intervals[interval];
  const name = axis * 4 + order;
  let list = breakpoints.get(name);
  if (!list) {
    list = findBreakpoints(room, interval, axis, order);
    breakpoints.set(name, list);
  }
  return list;
}

/** The exact value at a breakpoint. */
export function exactValue(room: BreakRoom, axis: number, order: Order, point: Breakpoint): number {
  if (0 < point.margin) {
    point.value = derivativeAt(room, axis, order, point.t, point.side);
    point.margin = 0;
  }
  return point.value;
}

/** Derivative `order` of a root axis at one instant, exact. */
export function derivativeAt(room: BreakRoom, axis: number, order: Order, t: number, side: Side): number {
  const { model, solve, series } = room;
  const { tracks } = model;
  const interval = intervalAt(tracks, t, side);
  if (pathIn(model, interval, axis)) {
    evaluateAxes(model, solve, t, side, order);
    return FACTORIAL[order] * solve.series[axis * ROOM + order];
  }
  const { curves, pieces } = tracks;
  writeSeries(curves[axis], pieces[interval * curves.length + axis], t, order, series, 0);
  return FACTORIAL[order] * series[order];
}

/** Evidence for a value of a root axis at any instant. */
export function evidenceOf(model: MoveModel, axis: number): Extreme["evidence"] {
  return isFollowed(model, axis) ? "bracketed" : "exact";
}

function findBreakpoints(room: BreakRoom, interval: number, axis: number, order: Order): Breakpoint[] {
  const { model } = room;
  const list: Breakpoint[] = [];
  const solved = pathIn(model, interval, axis);
  if (!solved) addKeyed(list, order, model, interval, axis);
  else {
    const [first, last] = piecesIn(model, interval, solved.path);
    for (let piece = first; piece <= last; piece++) {
      addSolved(list, order, solved.path, solved.unknown, piece);
    }
  }
  return list;
}

/** A keyed curve, one polynomial within an interval. */
function addKeyed(list: Breakpoint[], order: Order, { tracks }: MoveModel, interval: number, axis: number): void {
  const [start, end] = [tracks.knots[interval], tracks.knots[interval + 1]];
  const curve = tracks.curves[axis];
  const piece = tracks.pieces[interval * tracks.curves.length + axis];
  const add = (t: number, value: number, side: Side): void =>
    void list.push({ t, value, side, evidence: "exact", margin: 0 });
  if (curve.degree === 0) {
    const value = order === 0 ? curve.coefficients[piece] : 0;
    add(start, value, "right");
    add(end, value, "left");
    return;
  }
  const from = curve.times[piece];
  const length = curve.times[piece + 1] - from;
  const low = 0 < length ? (start - from) / length : 0;
  const high = 0 < length ? (end - from) / length : 0;
  const d = derived(curve, piece, order);
  add(start, polynomialAt(d, low), "right");
  for (const s of rootsWithin(derivedOnce(d), low, high)) {
    if (low < s && s < high) add(from + s * length, polynomialAt(d, s), "left");
  }
  add(end, polynomialAt(d, high), "left");
}

/** A solved axis in one piece of its path: the path leads to the instants, the values there are exact when they count. */
function addSolved(list: Breakpoint[], order: Order, path: SolvedPath, unknown: number, piece: number): void {
  const curve = path.curves[unknown];
  const ends = path.ends[unknown];
  const from = curve.times[piece];
  const to = curve.times[piece + 1];
  const left = piece * 2 * ROOM;
  if (path.state[piece] === TOO_STEEP) return addSteep(list, order, ends, left, from, to);
  const followed = path.state[piece] === FOLLOWED;
  const d = followed ? piecePolynomial(ends, left, ends, left + ROOM, to - from, order) : derived(curve, piece, order);
  const add = (t: number, value: number, side: Side, margin: number): void =>
    void list.push({ t, value, side, evidence: "bracketed", margin });
  const endValue = (at: number, s: number): number =>
    followed ? FACTORIAL[order] * ends[at + order] : polynomialAt(d, s);
  const first = endValue(left, 0);
  const last = endValue(left + ROOM, 1);
  add(from, first, "right", 0);
  for (const s of rootsWithin(derivedOnce(d), 0, 1)) {
    if (s <= 0 || 1 <= s) continue;
    const value = polynomialAt(d, s);
    const size = Math.max(Math.abs(first), Math.abs(value), Math.abs(last));
    add(from + s * (to - from), value, "left", followed ? followedMargin(order, size, to - from) : 0);
  }
  add(to, last, "left", 0);
}

/** The pole is passed faster than can be followed: its rates have no bound. */
function addSteep(list: Breakpoint[], order: Order, ends: Float64Array, left: number, from: number, to: number): void {
  const add = (t: number, value: number, side: Side, evidence: Extreme["evidence"]): void =>
    void list.push({ t, value, side, evidence, margin: 0 });
  add(from, FACTORIAL[order] * ends[left + order], "right", "bracketed");
  const rise = ends[left + ROOM] - ends[left];
  // An axis that the pole does not turn keeps its finite rates.
  if (order !== 0 && 1e-3 < Math.abs(rise)) {
    const middle = (from + to) / 2;
    const first = rise < 0 ? -Infinity : Infinity;
    add(middle, first, "left", "unbounded");
    if (1 < order) add(middle, -first, "right", "unbounded");
  }
  add(to, FACTORIAL[order] * ends[left + ROOM + order], "left", "bracketed");
}

/** Coefficients in s of derivative `order` in time of one piece. */
function derived(curve: Piecewise, piece: number, order: number): number[] {
  const width = curve.degree + 1;
  let d = Array.from(curve.coefficients.subarray(piece * width, (piece + 1) * width));
  const length = curve.times[piece + 1] - curve.times[piece];
  for (let k = 0; k < order; k++) d = derivedOnce(d).map((c) => c / length);
  return d;
}
