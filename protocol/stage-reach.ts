import type { PackedNumbers } from "./stage.ts";

/** Which region is looked at: a section at a height of the set [m], or the shell of the whole. */
export type ReachWish = { readonly kind: "section"; readonly height: number } | { readonly kind: "shell" };

/** Where the entrance pupil can be brought to, whichever way the camera then looks; or in a sentence why it is not told. */
export type StageReach = {
  readonly uri: string;
  /** Version of the move's document that it is of. */
  readonly version: number;
  readonly wish: ReachWish;
} & (
  | {
      /** Distance of the places that were tried [m]. */
      readonly step: number;
      /** True where an axis without an end was cut off. */
      readonly open: boolean;
      /** Lowest and highest place of the pupil [m]. */
      readonly heights: readonly [number, number];
      /** Shape (n, 3, 3) and, of a section, its outline, shape (m, 2, 3), in the set [m]. */
      readonly triangles: PackedNumbers;
      readonly outline: PackedNumbers;
    }
  | { readonly problem: string }
);

/** To the stage: the answer to its `reach` message. */
export interface ReachMessage {
  readonly type: "reach";
  readonly reach: StageReach;
}

/** The region that the entrance pupil of a move's rig can reach from where its base stands. */
export const REACH_REQUEST = "movewright/reachableRegion";
export type ReachParams = { readonly uri: string } & ReachWish;
export type ReachResult = StageReach;
