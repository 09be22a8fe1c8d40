import { sameData, sameNumbers } from "../base/same-data.ts";
import type { Breakpoint } from "./breakpoints.ts";
import { equationsName, intervalSignature } from "./interval-signature.ts";
import type { MoveModel } from "./move-model.ts";
import type { PathPiece } from "./path-piece.ts";
import { pieceAt, pieceCount } from "./piecewise.ts";
import type { Recall } from "./plan-record.ts";
import { ROOM } from "./series.ts";
import { WITHOUT_SOLUTION } from "./solved-path.ts";

/**
 * One interval of the time line: all that its motion hangs on, and what was found out about it. Equal intervals of a plan
 * and the plan before it are one object, so that what was found for one is known for the other.
 */
export interface Interval {
  readonly name: string;
  readonly signature: Float64Array;
  readonly way?: PathPiece;
  /** Numbers of the solved path, empty where nothing is solved. */
  readonly path: Float64Array;
  /** Bounds of each derivative of each axis, shape (axes, 4 orders, 2: low and high); NaN until asked for. */
  readonly bounds: Float64Array;
  /** Breakpoints by axis · 4 + order, once asked for. */
  readonly breakpoints: Map<number, readonly Breakpoint[]>;
}

/** All intervals of a solved model, those of the plan before where they are equal. */
export function intervalsOf(model: MoveModel, { record, known }: Recall): Interval[] {
  const { knots } = model.tracks;
  return Array.from({ length: knots.length - 1 }, (_, i) => {
    const made = describe(model, i);
    const before = known?.intervals.get(knots[i]);
    const interval = before && isSame(before, made) ? before : made;
    record.intervals.set(knots[i], interval);
    return interval;
  });
}

function describe(model: MoveModel, interval: number): Interval {
  const span = model.spans[model.spanOf[interval]];
  const solved = span?.path ? span.problem!.unknown : [];
  return {
    name: `${equationsName(model, interval, span)}, ${solved.length}`,
    signature: intervalSignature(model, interval, solved),
    way: span?.problem?.placed ? model.pathPieces[model.pathOf[interval]] : undefined,
    path: pathNumbers(model, interval),
    bounds: new Float64Array(8 * model.move.axes.length).fill(NaN),
    breakpoints: new Map(),
  };
}

function isSame(a: Interval, b: Interval): boolean {
  return (
    a.name === b.name &&
    sameNumbers(a.signature, b.signature) &&
    sameNumbers(a.path, b.path) &&
    sameData(a.way, b.way) &&
    a.bounds.length === b.bounds.length
  );
}

/** Times, states and polynomials of the pieces of the path within an interval, of followed ones both ends: as many numbers. */
function pathNumbers(model: MoveModel, interval: number): Float64Array {
  const { knots } = model.tracks;
  const path = model.spans[model.spanOf[interval]]?.path;
  if (!path) return new Float64Array();
  const first = pieceAt(path.times, knots[interval], "right");
  const last = Math.min(pieceAt(path.times, knots[interval + 1], "left"), pieceCount(path.curves[0]) - 1);
  const unknowns = path.curves.length;
  const numbers = new Float64Array((last + 1 - first) * (3 + 2 * ROOM * unknowns));
  let at = 0;
  for (let piece = first; piece <= last; piece++) {
    numbers[at++] = path.times[piece];
    numbers[at++] = path.times[piece + 1];
    numbers[at++] = path.state[piece];
    for (let u = 0; u < unknowns; u++) {
      const table = path.state[piece] === WITHOUT_SOLUTION ? path.curves[u].coefficients : path.ends[u];
      for (let n = 0; n < 2 * ROOM; n++) numbers[at++] = table[piece * 2 * ROOM + n];
    }
  }
  return numbers;
}
