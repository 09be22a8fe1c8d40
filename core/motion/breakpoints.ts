import { evaluateAxes } from "./evaluate.ts";
import type { MoveModel } from "./move-model.ts";
import { pieceCount, type Piecewise } from "./piecewise.ts";
import { rootsWithin } from "./polynomial-roots.ts";
import { FACTORIAL, ROOM } from "./series.ts";
import type { SolveRoom } from "./solve-instant.ts";
import { FOLLOWED, piecePolynomial, TOO_STEEP, type SolvedPath } from "./solved-path.ts";
import type { Extreme, Order, Side } from "./trajectory.ts";

/**
 * Instants between which a derivative of an axis is monotone, in order of time, both sides of each knot. From entry i to
 * i + 1 it is one polynomial or solution, except where entry i is a left side and i + 1 the right side of one knot.
 */
export interface Breakpoints {
  readonly t: Float64Array;
  readonly value: Float64Array;
  /** 1 for the right side: the entry begins its piece. */
  readonly right: Uint8Array;
  readonly evidence: readonly Extreme["evidence"][];
}

/** Breakpoints of a model, found once for each axis and order. */
export interface BreakRoom {
  readonly model: MoveModel;
  readonly solve: SolveRoom;
  readonly found: Map<number, Breakpoints>;
}

export function createBreakRoom(model: MoveModel, solve: SolveRoom): BreakRoom {
  return { model, solve, found: new Map() };
}

/** Breakpoints of derivative `order` of a root axis (one that does not follow). */
export function breakpointsOf(room: BreakRoom, axis: number, order: Order): Breakpoints {
  const name = axis * 4 + order;
  const known = room.found.get(name);
  if (known) return known;
  const list: Entry[] = [];
  const { model } = room;
  for (const span of model.spans) {
    const u = span.path ? span.problem!.unknown.indexOf(axis) : -1;
    if (span.path && 0 <= u) addSolved(room, list, axis, order, span.path, u);
    else addKeyed(list, order, model.tracks.curves[axis], span.start, span.end);
  }
  const breaks: Breakpoints = {
    t: Float64Array.from(list, (entry) => entry.t),
    value: Float64Array.from(list, (entry) => entry.value),
    right: Uint8Array.from(list, (entry) => (entry.side === "right" ? 1 : 0)),
    evidence: list.map((entry) => entry.evidence),
  };
  room.found.set(name, breaks);
  return breaks;
}

/** Derivative `order` of a root axis at one instant, exact. */
export function derivativeAt(room: BreakRoom, axis: number, order: Order, t: number, side: Side): number {
  evaluateAxes(room.model, room.solve, t, side, order);
  return FACTORIAL[order] * room.solve.series[axis * ROOM + order];
}

interface Entry {
  readonly t: number;
  readonly value: number;
  readonly side: Side;
  readonly evidence: Extreme["evidence"];
}

/** A keyed curve within start..end, held beyond its own ends. */
function addKeyed(list: Entry[], order: Order, curve: Piecewise, start: number, end: number): void {
  const add = (t: number, value: number, side: Side): void => void list.push({ t, value, side, evidence: "exact" });
  if (curve.degree === 0) {
    const value = order === 0 ? curve.coefficients[0] : 0;
    add(start, value, "right");
    add(end, value, "left");
    return;
  }
  for (let piece = 0; piece < pieceCount(curve); piece++) {
    const from = curve.times[piece];
    const to = curve.times[piece + 1];
    const length = to - from;
    const low = Math.max(0, (start - from) / length);
    const high = Math.min(1, (end - from) / length);
    if (!(low < high)) continue;
    const d = derived(curve, piece, order);
    const inner = rootsWithin(derivedOnce(d), low, high).filter((s) => low < s && s < high);
    add(low === 0 ? from : start, valueOf(d, low), "right");
    for (const s of inner) add(from + s * length, valueOf(d, s), "left");
    add(high === 1 ? to : end, valueOf(d, high), "left");
  }
}

/** A solved axis: the path leads to the instants, the values there are exact. */
function addSolved(
  room: BreakRoom,
  list: Entry[],
  axis: number,
  order: Order,
  path: SolvedPath,
  unknown: number,
): void {
  const curve = path.curves[unknown];
  const ends = path.ends[unknown];
  const { state } = path;
  for (let piece = 0; piece < pieceCount(curve); piece++) {
    const from = curve.times[piece];
    const to = curve.times[piece + 1];
    const left = piece * 2 * ROOM;
    const d =
      state[piece] === FOLLOWED
        ? piecePolynomial(ends, left, ends, left + ROOM, to - from, order)
        : derived(curve, piece, order);
    if (state[piece] === TOO_STEEP) {
      addSteep(room, list, axis, order, from, to);
      continue;
    }
    const followed = state[piece] === FOLLOWED;
    const add = (t: number, value: number, side: Side): void =>
      void list.push({ t, value, side, evidence: "bracketed" });
    const endValue = (at: number, s: number): number =>
      followed ? FACTORIAL[order] * ends[at + order] : valueOf(d, s);
    add(from, endValue(left, 0), "right");
    for (const s of rootsWithin(derivedOnce(d), 0, 1)) {
      if (s <= 0 || 1 <= s) continue;
      const t = from + s * (to - from);
      add(t, followed ? derivativeAt(room, axis, order, t, "left") : valueOf(d, s), "left");
    }
    add(to, endValue(left + ROOM, 1), "left");
  }
}

/** The pole is passed faster than can be followed: its rates have no bound. */
function addSteep(room: BreakRoom, list: Entry[], axis: number, order: Order, from: number, to: number): void {
  const start = derivativeAt(room, axis, order, from, "left");
  const end = derivativeAt(room, axis, order, to, "right");
  if (order === 0) {
    list.push({ t: from, value: start, side: "right", evidence: "bracketed" });
    list.push({ t: to, value: end, side: "left", evidence: "bracketed" });
    return;
  }
  const rise = derivativeAt(room, axis, 0, to, "right") - derivativeAt(room, axis, 0, from, "left");
  // An axis that the pole does not turn keeps its finite rates.
  const turns = 1e-3 < Math.abs(rise);
  const add = (t: number, value: number, side: Side, evidence: Extreme["evidence"]): void =>
    void list.push({ t, value, side, evidence });
  add(from, start, "right", "bracketed");
  if (turns) {
    const middle = (from + to) / 2;
    const first = rise < 0 ? -Infinity : Infinity;
    add(middle, first, "left", "unbounded");
    if (1 < order) add(middle, -first, "right", "unbounded");
  }
  add(to, end, "left", "bracketed");
}

/** Coefficients in s of derivative `order` in time of one piece. */
function derived(curve: Piecewise, piece: number, order: number): number[] {
  const width = curve.degree + 1;
  let d = Array.from(curve.coefficients.subarray(piece * width, (piece + 1) * width));
  const length = curve.times[piece + 1] - curve.times[piece];
  for (let k = 0; k < order; k++) d = derivedOnce(d).map((c) => c / length);
  return d;
}

function derivedOnce(d: readonly number[]): number[] {
  return d.length <= 1 ? [0] : d.slice(1).map((c, k) => c * (k + 1));
}

function valueOf(d: readonly number[], s: number): number {
  let value = 0;
  for (let k = d.length - 1; 0 <= k; k--) value = value * s + d[k];
  return value;
}
