import type { Quat } from "./quat.ts";
import type { Vec3 } from "./vec3.ts";

/** A frame placed in another: p_outer = rotate(turn, p_inner) + at. Metres. */
export interface Pose {
  readonly at: Vec3;
  readonly turn: Quat;
}
