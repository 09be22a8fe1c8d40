import type { Vec2, Vec3 } from "../../base/vec3.ts";

/**
 * What a person who shapes a move by hand wants of one key, by its position in the move. Everything is SI and absolute, so
 * that the newest intent says all that the earlier ones of the same drag said.
 */
export type ShapeIntent =
  /** It comes at this played time [s]. */
  | { readonly kind: "time"; readonly key: number; readonly time: number }
  /** The entrance pupil is at this place of the set then [m]. */
  | { readonly kind: "camera"; readonly key: number; readonly at: Vec3 }
  /** The target with this index stands at this place of the set then [m]. */
  | { readonly kind: "target"; readonly key: number; readonly target: number; readonly at: Vec3 }
  /** What is aimed at is there in the captured picture: shares from the left and the top. */
  | { readonly kind: "framing"; readonly key: number; readonly at: Vec2 }
  /** The axis with this index of the move is further by this [m, rad] than it is. */
  | { readonly kind: "axis"; readonly key: number; readonly axis: number; readonly by: number }
  /** Focal length [m]. */
  | { readonly kind: "zoom"; readonly key: number; readonly focal: number };
