import { deriveBernstein, writeBernstein } from "./bernstein.ts";
import { pathIn, piecesIn, type BreakRoom } from "./breakpoints.ts";
import type { Piecewise } from "./piecewise.ts";
import { FOLLOWED, followedMargin, TOO_STEEP } from "./solved-path.ts";
import type { Order } from "./trajectory.ts";

/** Share of a polynomial's own size that rounding may make of its bounds. */
const ROUNDING = 1e-14;

/**
 * Where the bounds of derivative `order` of a root axis within an interval stand in its `bounds`: low, then high. Nothing
 * of the derivative lies beyond them: they come from Bernstein coefficients, of solved axes with what the path may be off.
 */
export function boundsAt(room: BreakRoom, interval: number, axis: number, order: Order): number {
  const at = 8 * axis;
  const { bounds } = room.intervals[interval];
  if (Number.isNaN(bounds[at])) writeBounds(room, interval, axis, bounds, at);
  return at + 2 * order;
}

function writeBounds(room: BreakRoom, interval: number, axis: number, bounds: Float64Array, at: number): void {
  const { model } = room;
  const { tracks } = model;
  for (let order = 0; order < 4; order++) {
    bounds[at + 2 * order] = Infinity;
    bounds[at + 2 * order + 1] = -Infinity;
  }
  const solved = pathIn(model, interval, axis);
  if (!solved) {
    const curve = tracks.curves[axis];
    const piece = tracks.pieces[interval * tracks.curves.length + axis];
    const from = curve.times[piece];
    const length = curve.times[piece + 1] - from;
    const [start, end] = [tracks.knots[interval], tracks.knots[interval + 1]];
    const empty = curve.degree === 0 || !(0 < length);
    const [low, high] = empty ? [0, 1] : [(start - from) / length, (end - from) / length];
    return widen(room, curve, piece, low, high, false, bounds, at);
  }
  const { path, unknown } = solved;
  const [first, last] = piecesIn(model, interval, path);
  for (let piece = first; piece <= last; piece++) {
    widen(room, path.curves[unknown], piece, 0, 1, path.state[piece] === FOLLOWED, bounds, at);
    if (path.state[piece] !== TOO_STEEP) continue;
    // A jump has no bound.
    bounds.fill(-Infinity, at + 2, at + 8);
    for (let order = 1; order < 4; order++) bounds[at + 2 * order + 1] = Infinity;
  }
}

/** Widens the bounds of all orders by those of one polynomial over a share of its piece. */
function widen(
  room: BreakRoom,
  curve: Piecewise,
  piece: number,
  low: number,
  high: number,
  followed: boolean,
  bounds: Float64Array,
  at: number,
): void {
  const b = room.bernstein;
  const length = curve.times[piece + 1] - curve.times[piece];
  const part = (high - low) * length;
  let { degree } = curve;
  writeBernstein(curve.coefficients, piece * (degree + 1), degree, low, high, b);
  let noise = 0;
  for (let j = 0; j <= degree; j++) noise = Math.max(noise, ROUNDING * Math.abs(b[j]));
  let scale = 1;
  for (let order = 0; order < 4; order++) {
    let least = b[0];
    let most = b[0];
    for (let j = 1; j <= degree; j++) {
      if (b[j] < least) least = b[j];
      if (most < b[j]) most = b[j];
    }
    least *= scale;
    most *= scale;
    const size = Math.max(Math.abs(least), Math.abs(most));
    const margin = noise * scale + (followed ? followedMargin(order as Order, size, length) : 0);
    const i = at + 2 * order;
    bounds[i] = Math.min(bounds[i], least - margin);
    bounds[i + 1] = Math.max(bounds[i + 1], most + margin);
    noise *= 2 * Math.max(1, degree);
    degree = deriveBernstein(b, degree);
    scale = 0 < part ? scale / part : 0;
  }
}
