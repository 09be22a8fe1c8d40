import type { Vec3 } from "../base/vec3.ts";

/**
 * A stretch of the pupil's way in the set, a function of the length travelled u [m]: the place of a frame at that instant
 * (a target's, or the set's own) plus an offset that hangs on u alone. So a target that moves carries its stretch along.
 */
export interface PathPiece {
  /** u where it begins and ends [m], `start` < `end`; each shape goes on beyond. */
  readonly start: number;
  readonly end: number;
  /** Targets whose places the offset counts from, -1 for the set's origin. Where they differ one goes over into the other. */
  readonly from: number;
  readonly to: number;
  readonly shape: PathShape;
}

export type PathShape =
  | {
      readonly kind: "polynomial";
      /** Shape (3, degree + 1), lowest first, in s = (u - start) / (end - start) [m]. */
      readonly degree: number;
      readonly coefficients: Float64Array;
    }
  | {
      readonly kind: "turn";
      /**
       * centre + rise v along + (radius + widen v) (cos(turn v) first + sin(turn v) second) with v = u - start; the three
       * directions are unit vectors, square to each other and right-handed (first, second, along). Lengths [m], turn
       * [rad/m].
       */
      readonly centre: Vec3;
      readonly along: Vec3;
      readonly first: Vec3;
      readonly second: Vec3;
      readonly turn: number;
      readonly radius: number;
      readonly widen: number;
      readonly rise: number;
    };
