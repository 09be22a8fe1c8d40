import type { ShapeIntent } from "../core/edit/shape/intent.ts";
import type { PackedTake } from "./stage.ts";

export type { ShapeIntent } from "../core/edit/shape/intent.ts";

/** While somebody drags, how the move would go; on release, the edit that says it. */
export type ShapePhase = "preview" | "commit";

/** What the stage asks for: `turn` rises with each, so that an answer that comes late is known as such. */
export interface ShapeWish {
  readonly turn: number;
  /** Version of the move's document that the stage shows. */
  readonly version: number;
  readonly phase: ShapePhase;
  readonly intent: ShapeIntent;
}

/** Where a wish ends that cannot be had, and why, as a sentence. */
export interface StageStop {
  readonly words: string;
  /** The nearest place that can be had: in the set [m], shape (3,), or in the captured picture, shape (2,). */
  readonly at?: readonly number[];
}

/** How the move would go. Nothing is written. */
export interface ShapePreview {
  /** What would be written, as a sentence: `` `top` comes at 2.36 s.`` */
  readonly says: string;
  readonly stop?: StageStop;
  /** Rows that stand in place of rows `from` up to, without, `to` of the take that is shown; absent where nothing moves. */
  readonly patch?: { readonly from: number; readonly to: number; readonly rows: PackedTake };
  /** [s] */
  readonly duration: number;
  /** When each key comes [s]. */
  readonly times: readonly number[];
  /** A target that stands elsewhere: its place in the set, or in the frame of the turntable that it stands on [m]. */
  readonly target?: { readonly index: number; readonly at: readonly [number, number, number] };
  /** The highest share of any limit in those rows; what is over it is a finding once it is written. */
  readonly share: number;
}

/** Why nothing is shaped, as a sentence. */
export interface ShapeRefusal {
  readonly refusal: string;
}

/** What became of a wish. `made`: what was written; `unchanged` where the text says it already, so that no other take comes. */
export type ShapeAnswer = {
  readonly uri: string;
  readonly turn: number;
  readonly version: number;
} & (
  | { readonly preview: ShapePreview }
  | { readonly made: string; readonly stop?: StageStop; readonly unchanged?: boolean }
  | ShapeRefusal
);

/** Asks how a move goes that is shaped by hand, or for the edit that writes it. */
export const SHAPE_REQUEST = "movewright/shape";
export interface ShapeParams extends ShapeWish {
  readonly uri: string;
}

/** Edits of one document. */
export interface ShapeEdits {
  readonly uri: string;
  /** Of the text that the edits are for; absent for one that is not open. */
  readonly version?: number;
  readonly edits: readonly {
    readonly range: {
      readonly start: { readonly line: number; readonly character: number };
      readonly end: { readonly line: number; readonly character: number };
    };
    readonly newText: string;
  }[];
}

export type ShapeResult =
  | { readonly preview: ShapePreview }
  | { readonly write: ShapeEdits; readonly made: string; readonly stop?: StageStop }
  /** A newer wish came before this one was solved: nobody needs its answer. */
  | { readonly superseded: true }
  | ShapeRefusal;
