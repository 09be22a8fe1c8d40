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
}

export function createTargetRoom(): TargetRoom {
  return {
    sin: new Float64Array(ROOM),
    cos: new Float64Array(ROOM),
    inner: new Float64Array(3 * ROOM),
    square: new Float64Array(3 * ROOM),
    crossed: new Float64Array(3 * ROOM),
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
  const inner = course.angle < 0 ? out : room.inner;
  const from = course.angle < 0 ? at : 0;
  for (let axis = 0; axis < 3; axis++) {
    for (let k = 0; k <= order; k++) {
      const moved = course.path < 0 ? (k === 0 ? course.at[axis] : 0) : tracks[(course.path + axis) * ROOM + k];
      inner[from + axis * ROOM + k] = moved;
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
    writeTurnTerm(tracks, course.angle * ROOM, room.sin, room.cos, 0, k);
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
