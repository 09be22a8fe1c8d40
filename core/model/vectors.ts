import type { Pose } from "../base/pose.ts";
import { quatFromRollPitchYaw } from "../base/quat.ts";
import type { Vec2, Vec3 } from "../base/vec3.ts";
import type { Stated } from "./declared.ts";

type Numbers = Stated<readonly Stated<number>[]>;

export const ZERO: Vec3 = [0, 0, 0];
export const Z_AXIS: Vec3 = [0, 0, 1];

/** Three numbers as stated, or `otherwise`. */
export function vec3(stated: Numbers | undefined, otherwise: Vec3 = ZERO): Vec3 {
  if (!stated) return otherwise;
  const [x, y, z] = stated.value;
  return [x.value, y.value, z.value];
}

export function vec2(stated: Numbers | undefined, otherwise: Vec2 = [0, 0]): Vec2 {
  if (!stated) return otherwise;
  const [x, y] = stated.value;
  return [x.value, y.value];
}

/** A stated direction as a unit vector. It is not zero: the reader refuses that. */
export function unit(stated: Numbers | undefined, otherwise: Vec3 = Z_AXIS): Vec3 {
  const [x, y, z] = vec3(stated, otherwise);
  // Scaled first, so that huge and tiny directions have a length.
  const largest = Math.max(Math.abs(x), Math.abs(y), Math.abs(z));
  const length = Math.hypot(x / largest, y / largest, z / largest) * largest;
  return [x / length, y / length, z / length];
}

/** A place with a turn about fixed axes: roll, then pitch, then yaw. */
export function pose(at: Numbers | undefined, turn: Numbers | undefined): Pose {
  const [roll, pitch, yaw] = vec3(turn);
  return { at: vec3(at), turn: quatFromRollPitchYaw(roll, pitch, yaw) };
}
