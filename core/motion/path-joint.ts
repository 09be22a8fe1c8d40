import { length, scale, subtract, type Vec3 } from "../base/vec3.ts";
import type { PathPiece } from "./path-piece.ts";
import { createPathRoom, writePathPlace } from "./path-series.ts";
import { writeQuintic } from "./quintic.ts";
import { ROOM } from "./series.ts";
import { createTargetRoom, writeTarget, type TargetCourse } from "./target-series.ts";

/** Directions, as vectors of length 1 for 1 m of u, and curvatures [1/m] that differ by less than this are alike. */
const ALIKE = 1e-9;
const ALIKE_CURVATURE = 1e-8;
/** Frames that part more slowly than this [m/s, m/s²] stand still to each other. */
const ALIKE_MOTION = 1e-9;

/** How two pieces meet: smoothly to the second order, at an angle [rad], with a step of curvature, or while their frames part. */
export type Joint =
  | { readonly kind: "smooth" }
  | { readonly kind: "corner"; readonly angle: number }
  | { readonly kind: "curvature" }
  | { readonly kind: "parting" };

/** Offset of a piece from its frame and the derivatives by u of order 1 and 2, at `u`. */
function offsetAt(piece: PathPiece, u: number): readonly [Vec3, Vec3, Vec3] {
  const out = new Float64Array(3 * ROOM);
  const fixed = { ...piece, from: -1, to: -1 };
  writePathPlace(fixed, [], Float64Array.of(u, 1, 0, 0, 0), 0, 2, createPathRoom(), createTargetRoom(), out, 0);
  const at = (k: number): Vec3 => [out[k], out[ROOM + k], out[2 * ROOM + k]];
  return [at(0), at(1), scale(at(2), 2)];
}

/** @param tracks Series of all tracks at the time of the joint. */
export function jointOf(
  before: PathPiece,
  after: PathPiece,
  u: number,
  targets: readonly TargetCourse[],
  tracks: Float64Array,
): Joint {
  if (before.to !== after.from && framesPart(before.to, after.from, targets, tracks)) return { kind: "parting" };
  const [, direction, bend] = offsetAt(before, u);
  const [, onward, bendOn] = offsetAt(after, u);
  if (ALIKE < length(subtract(direction, onward))) {
    return { kind: "corner", angle: angleBetween(direction, onward) };
  }
  return ALIKE_CURVATURE < length(subtract(bend, bendOn)) ? { kind: "curvature" } : { kind: "smooth" };
}

function framesPart(a: number, b: number, targets: readonly TargetCourse[], tracks: Float64Array): boolean {
  const room = createTargetRoom();
  const motion = (target: number): Float64Array => {
    const out = new Float64Array(3 * ROOM);
    if (0 <= target) writeTarget(targets[target], tracks, 2, room, out, 0);
    return out;
  };
  const [one, other] = [motion(a), motion(b)];
  return [0, 1, 2].some((axis) =>
    [1, 2].some((k) => ALIKE_MOTION < Math.abs(one[axis * ROOM + k] - other[axis * ROOM + k])),
  );
}

/**
 * The rounding of the corner at `u`: leaves the piece before `reach` [m] ahead of it and joins the piece after as far behind
 * it, with the direction and curvature of both.
 */
export function roundedJoint(before: PathPiece, after: PathPiece, u: number, reach: number): PathPiece {
  const [start, end] = [u - reach, u + reach];
  const [from, to] = [offsetAt(before, start), offsetAt(after, end)];
  const coefficients = new Float64Array(18);
  for (let axis = 0; axis < 3; axis++) {
    const state = ([value, speed, accel]: readonly [Vec3, Vec3, Vec3]) => ({
      value: value[axis],
      speed: speed[axis],
      accel: accel[axis],
    });
    writeQuintic(state(from), state(to), 2 * reach, coefficients, 6 * axis);
  }
  return { start, end, from: before.to, to: after.from, shape: { kind: "polynomial", degree: 5, coefficients } };
}

function angleBetween(a: Vec3, b: Vec3): number {
  const [x, y] = [scale(a, length(b)), scale(b, length(a))];
  return 2 * Math.atan2(length(subtract(x, y)), length([x[0] + y[0], x[1] + y[1], x[2] + y[2]]));
}
