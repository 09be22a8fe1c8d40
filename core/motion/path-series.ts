import type { PathPiece, PathShape } from "./path-piece.ts";
import { productTerm, ROOM, writeTurnTerm } from "./series.ts";
import { writeTarget, type TargetCourse, type TargetRoom } from "./target-series.ts";

/** What writing a place on a path needs, one for each trajectory. */
export interface PathRoom {
  /** v = u - start [m], and s = v / (end - start). */
  readonly travelled: Float64Array;
  readonly share: Float64Array;
  readonly angle: Float64Array;
  readonly sin: Float64Array;
  readonly cos: Float64Array;
  readonly radius: Float64Array;
  readonly across: Float64Array;
  readonly ahead: Float64Array;
  readonly sum: Float64Array;
  readonly product: Float64Array;
  /** Place of the frame that is gone over to, (3, ROOM). */
  readonly frame: Float64Array;
}

export function createPathRoom(): PathRoom {
  const series = (): Float64Array => new Float64Array(ROOM);
  return {
    travelled: series(),
    share: series(),
    angle: series(),
    sin: series(),
    cos: series(),
    radius: series(),
    across: series(),
    ahead: series(),
    sum: series(),
    product: series(),
    frame: new Float64Array(3 * ROOM),
  };
}

/** 10 s³ - 15 s⁴ + 6 s⁵: from 0 to 1, level to the second order at both ends. */
const STEP = [0, 0, 0, 10, -15, 6] as const;

/**
 * Place on a path in the set [m], orders 0 to `order` in time, into `out[at ..]`, shape (3, ROOM). Allocates nothing.
 *
 * @param tracks Series of all tracks at the instant, the length travelled at `travel`.
 */
export function writePathPlace(
  piece: PathPiece,
  targets: readonly TargetCourse[],
  tracks: Float64Array,
  travel: number,
  order: number,
  room: PathRoom,
  targetRoom: TargetRoom,
  out: Float64Array,
  at: number,
): void {
  const { start, end, from, to, shape } = piece;
  const { travelled, share } = room;
  const per = 1 / (end - start);
  for (let k = 0; k <= order; k++) {
    travelled[k] = tracks[travel * ROOM + k] - (k === 0 ? start : 0);
    share[k] = travelled[k] * per;
  }
  writeFrame(from, targets, tracks, order, targetRoom, out, at);
  if (from !== to) goOver(to, targets, tracks, order, room, targetRoom, out, at);
  if (shape.kind === "turn") addTurn(shape, order, room, out, at);
  else addPolynomial(shape, order, room, out, at);
}

function writeFrame(
  target: number,
  targets: readonly TargetCourse[],
  tracks: Float64Array,
  order: number,
  room: TargetRoom,
  out: Float64Array,
  at: number,
): void {
  if (0 <= target) writeTarget(targets[target], tracks, order, room, out, at);
  else for (let axis = 0; axis < 3; axis++) for (let k = 0; k <= order; k++) out[at + axis * ROOM + k] = 0;
}

/** out += step(s) · (frame of `to` - out). */
function goOver(
  to: number,
  targets: readonly TargetCourse[],
  tracks: Float64Array,
  order: number,
  room: PathRoom,
  targetRoom: TargetRoom,
  out: Float64Array,
  at: number,
): void {
  writeFrame(to, targets, tracks, order, targetRoom, room.frame, 0);
  const { sum, product, share, frame } = room;
  writeHorner(STEP, 0, 5, share, order, sum, product);
  for (let axis = 0; axis < 3; axis++) {
    const i = axis * ROOM;
    for (let k = 0; k <= order; k++) frame[i + k] -= out[at + i + k];
    for (let k = 0; k <= order; k++) out[at + i + k] += productTerm(sum, 0, frame, i, k);
  }
}

function addPolynomial(
  { degree, coefficients }: Extract<PathShape, { readonly kind: "polynomial" }>,
  order: number,
  room: PathRoom,
  out: Float64Array,
  at: number,
): void {
  const { sum, product, share } = room;
  for (let axis = 0; axis < 3; axis++) {
    writeHorner(coefficients, axis * (degree + 1), degree, share, order, sum, product);
    for (let k = 0; k <= order; k++) out[at + axis * ROOM + k] += sum[k];
  }
}

/** Polynomial of the series `s` by Horner's scheme, into `sum`. */
function writeHorner(
  coefficients: ArrayLike<number>,
  first: number,
  degree: number,
  s: Float64Array,
  order: number,
  sum: Float64Array,
  product: Float64Array,
): void {
  for (let k = 0; k <= order; k++) sum[k] = 0;
  sum[0] = coefficients[first + degree];
  for (let n = degree - 1; 0 <= n; n--) {
    for (let k = 0; k <= order; k++) product[k] = productTerm(sum, 0, s, 0, k);
    for (let k = 0; k <= order; k++) sum[k] = product[k];
    sum[0] += coefficients[first + n];
  }
}

function addTurn(
  { centre, along, first, second, turn, radius, widen, rise }: Extract<PathShape, { readonly kind: "turn" }>,
  order: number,
  room: PathRoom,
  out: Float64Array,
  at: number,
): void {
  const { travelled: v, angle, sin, cos, radius: r, across, ahead } = room;
  for (let k = 0; k <= order; k++) {
    angle[k] = turn * v[k];
    r[k] = widen * v[k] + (k === 0 ? radius : 0);
  }
  for (let k = 0; k <= order; k++) {
    writeTurnTerm(angle, 0, sin, cos, 0, k);
    across[k] = productTerm(r, 0, cos, 0, k);
    ahead[k] = productTerm(r, 0, sin, 0, k);
  }
  for (let axis = 0; axis < 3; axis++) {
    const i = at + axis * ROOM;
    out[i] += centre[axis];
    for (let k = 0; k <= order; k++) {
      out[i + k] += along[axis] * rise * v[k] + first[axis] * across[k] + second[axis] * ahead[k];
    }
  }
}
