import type { Rate } from "../base/rate.ts";
import type { Tree } from "../syntax/tree.ts";

/** One of the three texts, sound and without aliases. */
export interface Side {
  readonly text: string;
  readonly tree: Tree;
}

/** Something of each text; `base` is absent where both sides added it. */
export interface Three<T> {
  readonly base: T | undefined;
  readonly ours: T;
  readonly theirs: T;
}

/** How times are counted; absent where the sides differ in it, so that frames and labels cannot be compared. */
export interface Timing {
  readonly rate: Rate;
  readonly startFrame: number;
}

/** Thrown inside of a merge where a text is laid out in a way that cannot be taken apart: what holds it is then merged whole. */
export class NotCut extends Error {
  override readonly name = "NotCut";
}
