import type { PackedNumbers } from "./stage.ts";

/** One kind of pass as it plays. */
export interface StagePass {
  readonly name: string;
  /** First and last number that it is taken as, counted from 1 over all passes. */
  readonly first: number;
  readonly last: number;
  /**
   * Its own motion at `t`: axes and their speeds, shape (n, axes), places of the pupil, shape (n, 3), and of the targets,
   * shape (n, 3 m). Absent where it plays as the move itself does.
   */
  readonly motion?: {
    readonly t: PackedNumbers;
    readonly value: PackedNumbers;
    readonly speed: PackedNumbers;
    readonly position: PackedNumbers;
    readonly targets: PackedNumbers;
  };
  /**
   * Radius about the subject that holds it in the last of these passes in 95 of 100 takes [captured px], at the times of
   * the answer; NaN where nothing is aimed at or seen. Absent where the rig states nothing of how it repeats.
   */
  readonly error?: PackedNumbers;
}

/** The kinds of pass of a move, or in a sentence why there are none. */
export type StagePasses = { readonly uri: string; readonly version: number } & (
  | { readonly t: PackedNumbers; readonly match: number; readonly passes: readonly StagePass[] }
  | { readonly problem: string }
);

/** To the stage: the answer to its `passes` message. */
export interface PassesMessage {
  readonly type: "passes";
  readonly passes: StagePasses;
}

/** How the passes of a move play beside each other. */
export const PASSES_REQUEST = "movewright/passes";
export interface PassesParams {
  readonly uri: string;
}
export type PassesResult = StagePasses;
