import type { FileId } from "../../../core/base/span.ts";
import type { NameKind } from "../../../core/schema/facts.ts";
import type { Shape } from "../../../core/schema/shape.ts";
import type { Cursor } from "../cursor-probe.ts";
import type { ShapePlace } from "../shape-walk.ts";
import type { View } from "../view.ts";
import type { Moment } from "./moment.ts";
import type { Shown } from "./written-snippet.ts";

/** What completion knows beside the document itself. */
export interface Surroundings {
  /** Names that are defined here or in the documents that this one uses. */
  names(kind: NameKind): readonly { readonly name: string; readonly from: string }[];
  /** Documents of the workspace, and what they name beside each other. */
  readonly files: readonly FileId[];
}

/** Something that may be written at the cursor, before it is known how. */
export interface Proposal {
  readonly label: string;
  readonly kind: "field" | "name" | "file" | "word" | "value" | "snippet";
  readonly detail?: string;
  /** Markdown. */
  readonly doc?: string;
  /** 0 to 9: the likeliest first, what can't be reached or is of no use last. */
  readonly rank?: number;
  /** Text without quotes in JSON: a number, true, false. */
  readonly bare?: boolean;
  /** In block YAML: a dash comes first. */
  readonly dash?: boolean;
  /** What may stand behind the name: JSON needs something there. */
  readonly shape?: Shape;
  /** What is written where that is more than the label. */
  readonly shown?: Shown;
}

/** Rank of what can be written and would not help. */
export const USELESS = 9;

/** Where the cursor stands and all that is known there. */
export interface Asked {
  readonly view: View;
  readonly cursor: Cursor;
  readonly around: Surroundings;
  /** Of the key that the cursor stands in; absent outside keys and before anything was solved. */
  readonly moment: Moment | undefined;
}

/** One form of what may stand at the cursor. */
export type AskedPlace = Asked & { readonly place: ShapePlace };
