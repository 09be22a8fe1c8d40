import type { AimSpan, FocusSpan, MoveModel } from "./move-model.ts";
import type { PathPiece } from "./path-piece.ts";

/**
 * All numbers that the motion within one interval of the tracks hangs on, in a fixed order: its ends, the pupil
 * where it stands still, the path that it is on, and the polynomial of every track, but for tracks `skipped`, which nothing
 * reads there.
 */
export function intervalSignature(model: MoveModel, interval: number, skipped: readonly number[]): Float64Array {
  const { knots, curves, pieces } = model.tracks;
  const row = interval * curves.length;
  const way = pathNumbers(model, interval);
  let size = 3 + way.length;
  for (const curve of curves) size += curve.degree === 0 ? 1 : curve.degree + 3;
  const out = new Float64Array(size);
  out[0] = knots[interval];
  out[1] = knots[interval + 1];
  out[2] = model.stillPupil;
  out.set(way, 3);
  let at = 3 + way.length;
  for (let c = 0; c < curves.length; c++) {
    if (skipped.includes(c)) continue;
    const { degree, times, coefficients } = curves[c];
    const piece = pieces[row + c];
    const first = piece * (degree + 1);
    // A still curve is one piece for all of time.
    if (0 < degree) {
      out[at++] = times[piece];
      out[at++] = times[piece + 1];
    }
    for (let k = 0; k <= degree; k++) out[at++] = coefficients[first + k];
  }
  return out.subarray(0, at);
}

function pathNumbers(model: MoveModel, interval: number): number[] {
  const piece: PathPiece | undefined = model.pathPieces[model.pathOf[interval]];
  if (!piece) return [];
  const { start, end, from, to, shape } = piece;
  if (shape.kind === "polynomial") return [start, end, from, to, shape.degree, ...shape.coefficients];
  const { centre, along, first, second, turn, radius, widen, rise } = shape;
  return [start, end, from, to, ...centre, ...along, ...first, ...second, turn, radius, widen, rise];
}

/** Which equations hold in an interval of a span, for what, and what is focused on: of one name they differ in numbers only. */
export function equationsName(model: MoveModel, interval: number, span: AimSpan | undefined): string {
  const focus: FocusSpan | undefined = model.focusSpans[model.focusOf[interval]];
  const focused = focus ? `${focus.from} ${focus.to} ${focus.share}` : "";
  if (!span) return focused;
  const { fromTarget, toTarget, share, problem } = span;
  const name = `${fromTarget} ${toTarget} ${share}, ${focused}`;
  if (!problem) return name;
  const { unknown, targets, level, row, placed } = problem;
  const way = placed ? model.pathPieces[model.pathOf[interval]].shape.kind : "";
  return `${name}, ${unknown.join()} ${targets} ${level} ${row} ${way}`;
}
