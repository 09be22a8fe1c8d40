import type { Vec3 } from "../base/vec3.ts";
import { productTerm, ROOM, writeTurnTerm } from "./series.ts";

/** A target as the engine moves it: at rest, on a turntable, along a path of its own, or both. */
export interface TargetCourse {
  /** Where it rests, in the set or in the table's frame [m]. */
  readonly at: Vec3;
  /** First of three tracks of its own path in that frame, or -1. */
  readonly path: number;
  /** The table: track of its angle or -1, its place [m] and unit direction. */
  readonly angle: number;
  readonly centre: Vec3;
  readonly along: Vec3;
}

export interface TargetRoom {
  readonly sin: Float64Array;
  readonly cos: Float64Array;
  /** Place in the table's frame, its part square to the axis and the axis crossed with it, each (3, ROOM). */
  readonly inner: Float64Array;
  readonly square: Float64Array;
  readonly crossed: Float64Array;
  /** The angle that `sin` and `cos` are of at order 0 [rad], shape (1,): targets are asked for more than once an instant. */
  readonly angle: Float64Array;
}

export function createTargetRoom(): TargetRoom {
  return {
    sin: new Float64Array(ROOM),
    cos: new Float64Array(ROOM),
    inner: new Float64Array(3 * ROOM),
    square: new Float64Array(3 * ROOM),
    crossed: new Float64Array(3 * ROOM),
    angle: Float64Array.of(NaN),
  };
}

/**
 * Place of a target in the set, orders 0 to `order`, into `out[at ..]`, shape (3, ROOM). On a table with angle w:
 * centre + p∥ + p⊥ cos w + (a × p) sin w.
 */
export function writeTarget(
  course: TargetCourse,
  tracks: Float64Array,
  order: number,
  room: TargetRoom,
  out: Float64Array,
  at: number,
): void {
  if (course.path < 0) {
    if (course.angle < 0) writeResting(course, order, out, at);
    else writeOnTable(course, tracks, order, room, out, at);
    return;
  }
  const inner = course.angle < 0 ? out : room.inner;
  const from = course.angle < 0 ? at : 0;
  for (let axis = 0; axis < 3; axis++) {
    for (let k = 0; k <= order; k++) {
      inner[from + axis * ROOM + k] = tracks[(course.path + axis) * ROOM + k];
    }
  }
  if (course.angle < 0) return;
  const [a, b, c] = course.along;
  for (let k = 0; k <= order; k++) {
    const x = inner[k];
    const y = inner[ROOM + k];
    const z = inner[2 * ROOM + k];
    const along = a * x + b * y + c * z;
    room.square[k] = x - along * a;
    room.square[ROOM + k] = y - along * b;
    room.square[2 * ROOM + k] = z - along * c;
    room.crossed[k] = b * z - c * y;
    room.crossed[ROOM + k] = c * x - a * z;
    room.crossed[2 * ROOM + k] = a * y - b * x;
    writeTurn(tracks, course.angle * ROOM, room, k);
    for (let axis = 0; axis < 3; axis++) {
      const i = axis * ROOM;
      out[at + i + k] =
        (k === 0 ? course.centre[axis] : 0) +
        (inner[i + k] - room.square[i + k]) +
        productTerm(room.square, i, room.cos, 0, k) +
        productTerm(room.crossed, i, room.sin, 0, k);
    }
  }
}

/** One that rests in the set. */
function writeResting({ at: place }: TargetCourse, order: number, out: Float64Array, at: number): void {
  for (let axis = 0; axis < 3; axis++) {
    const i = at + axis * ROOM;
    out[i] = place[axis];
    for (let k = 1; k <= order; k++) out[i + k] = 0;
  }
}

/** One that rests on a table, written out: it is asked for at every instant of most moves. */
function writeOnTable(
  { at: [x, y, z], along: [a, b, c], centre, angle }: TargetCourse,
  tracks: Float64Array,
  order: number,
  room: TargetRoom,
  out: Float64Array,
  at: number,
): void {
  const { sin, cos } = room;
  const along = a * x + b * y + c * z;
  const squareX = x - along * a;
  const squareY = y - along * b;
  const squareZ = z - along * c;
  const crossedX = b * z - c * y;
  const crossedY = c * x - a * z;
  const crossedZ = a * y - b * x;
  for (let k = 0; k <= order; k++) {
    writeTurn(tracks, angle * ROOM, room, k);
    out[at + k] = (k === 0 ? centre[0] + (x - squareX) : 0) + squareX * cos[k] + crossedX * sin[k];
    out[at + ROOM + k] = (k === 0 ? centre[1] + (y - squareY) : 0) + squareY * cos[k] + crossedY * sin[k];
    out[at + 2 * ROOM + k] = (k === 0 ? centre[2] + (z - squareZ) : 0) + squareZ * cos[k] + crossedZ * sin[k];
  }
}

/** Coefficient `k` of the sine and cosine of a table's angle, lower ones known. */
function writeTurn(tracks: Float64Array, i: number, { sin, cos, angle }: TargetRoom, k: number): void {
  if (k === 0 && tracks[i] === angle[0]) return;
  if (k === 0) angle[0] = tracks[i];
  writeTurnTerm(tracks, i, sin, cos, 0, k);
}
