import { writtenAt } from "./clock.ts";
import { curveOf, type TimedPiece } from "./join-curves.ts";
import { layKnots, leavesAt, writtenRates, type KeyTiming } from "./key-timing.ts";
import type { Knot } from "./keyed-curve.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import type { Piecewise } from "./piecewise.ts";
import { ROOM } from "./series.ts";
import { writePath } from "./solved-path.ts";
import { withCurves } from "./with-tracks.ts";

/** Slower than this [m or rad, per s and s²] is at rest. */
const AT_REST = 1e-10;

/** Value, speed and acceleration at an instant. */
interface State {
  readonly value: number;
  readonly speed: number;
  readonly accel: number;
}

/**
 * Lays the curves of axes that are solved in some spans and keyed in others: where an aim ends they go on from its value,
 * speed and acceleration to the next keyed value, or come to rest by the next key; where an aim begins they run into it
 * likewise. Within solved spans the curve is a filler that nothing reads.
 */
export function layAimCurves(
  model: MoveModel,
  keyed: readonly (readonly Knot[])[],
  timing: KeyTiming,
  axes: readonly number[],
): MoveModel {
  const curves = [...model.tracks.curves];
  for (const axis of axes) {
    const always = model.spans.every((span) => isSolved(span, axis));
    if (!always) curves[axis] = mixedCurve(model, axis, keyed[axis], timing);
  }
  return withCurves(model, curves);
}

function mixedCurve(model: MoveModel, axis: number, keyed: readonly Knot[], timing: KeyTiming): Piecewise {
  const pieces: TimedPiece[] = [];
  const put = (from: number, to: number, coefficients: ArrayLike<number>): void =>
    void pieces.push({ from, to, coefficients });
  for (let i = 0; i < model.spans.length;) {
    const solved = isSolved(model.spans[i], axis);
    let j = i;
    while (j + 1 < model.spans.length && isSolved(model.spans[j + 1], axis) === solved) j++;
    const start = model.spans[i].start;
    const end = model.spans[j].end;
    if (solved) put(start, end, [stateAt(model.spans[j], axis, "end").value]);
    else {
      const from = 0 < i ? stateAt(model.spans[i - 1], axis, "end") : undefined;
      const to = j + 1 < model.spans.length ? stateAt(model.spans[j + 1], axis, "start") : undefined;
      putFree(model, keyed, timing, start, end, from, to, put);
    }
    i = j + 1;
  }
  return curveOf(pieces);
}

function putFree(
  model: MoveModel,
  keyed: readonly Knot[],
  timing: KeyTiming,
  start: number,
  end: number,
  from: State | undefined,
  to: State | undefined,
  put: (start: number, end: number, piece: ArrayLike<number>) => void,
): void {
  const inner = keyed.filter(
    (knot) => (from ? start < knot.time : start <= knot.time) && (to ? knot.time < end : knot.time <= end),
  );
  const { keys } = model.move;
  const knots: Knot[] = [...inner];
  if (from) {
    if (inner.length === 0 && !to) {
      const next = keys.find((key) => start < key.time)?.time ?? end;
      knots.push(coasting(timing, start, next, from, 1));
    }
    knots.unshift({ time: start, value: from.value, rest: !moves(from) });
  }
  if (to) {
    if (inner.length === 0 && !from) {
      const left = keys.map(leavesAt).filter((time) => time < end);
      knots.push(coasting(timing, end, left.pop() ?? start, to, -1));
    }
    knots.push({ time: end, value: to.value, rest: !moves(to) });
  }
  const curve = layKnots(knots, timing, {
    ...(moves(from) && { start: from }),
    ...(moves(to) && { end: to }),
  });
  const width = curve.degree + 1;
  if (curve.degree === 0) return put(start, end, curve.coefficients);
  const last = curve.times.length - 1;
  if (start < curve.times[0]) put(start, curve.times[0], [curve.coefficients[0]]);
  for (let p = 0; p < last; p++) {
    put(curve.times[p], curve.times[p + 1], curve.coefficients.subarray(p * width, (p + 1) * width));
  }
  if (curve.times[last] < end) {
    const piece = curve.coefficients.subarray((last - 1) * width);
    put(curve.times[last], end, [piece.reduce((sum, c) => sum + c, 0)]);
  }
}

/** A state at rest lets the curve beside it keep its ease, which goes from rest to rest. */
function moves(state: State | undefined): boolean {
  return state !== undefined && (AT_REST < Math.abs(state.speed) || AT_REST < Math.abs(state.accel));
}

/**
 * The knot at rest that is reached from a moving state with least jerk when its value is free: over length h,
 * v h / 2 + a h² / 12 on, in written time; mirrored in time for a state that is run into.
 */
function coasting({ clock }: KeyTiming, time: number, rest: number, state: State, direction: 1 | -1): Knot {
  const h = Math.abs(writtenAt(clock, rest) - writtenAt(clock, time));
  const { speed, accel } = writtenRates(clock, time, state);
  const on = direction * speed * (h / 2) + accel * ((h * h) / 12);
  return { time: rest, value: state.value + on, rest: true };
}

function isSolved(span: AimSpan, axis: number): boolean {
  return span.path !== undefined && span.problem!.unknown.includes(axis);
}

function stateAt(span: AimSpan, axis: number, which: "start" | "end"): State {
  const path = span.path!;
  const out = new Float64Array(ROOM);
  const piece = which === "start" ? 0 : path.times.length - 2;
  writePath(path, span.problem!.unknown.indexOf(axis), piece, which === "start" ? span.start : span.end, 2, out, 0);
  return { value: out[0], speed: out[1], accel: 2 * out[2] };
}
