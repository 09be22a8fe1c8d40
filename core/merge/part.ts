import type { Span } from "../base/span.ts";
import type { MapNode, ListNode, TreeNode } from "../syntax/tree.ts";
import type { Side } from "./sides.ts";

/** Where the value of a part stands in its text. */
export interface Region extends Span {
  /** True where its first line begins outside of it: a map behind the dash of an item, and all that is no block. */
  readonly inline: boolean;
}

/** One field of a map or one item of a list: all of its text, taken apart. */
export interface Part {
  readonly side: Side;
  /** Of a field; "" for an item. */
  readonly name: string;
  readonly node: TreeNode | undefined;
  /** In a block: the lines of comments and blanks above. In brackets: what stands between the comma before and it; `undefined` for the first. */
  readonly lead: string | undefined;
  /** `name: `, or the dash of an item. */
  readonly head: string;
  readonly value: string;
  /** What follows the value: a comment beside it, its line end, comments that stand deeper. */
  readonly tail: string;
  /** Where the value stands in the text of its side. */
  readonly region: Region;
  /** From the name, or the dash, to the end of the tail. */
  readonly span: Span;
}

/** A map or a list taken apart; what is between its parts is theirs, so that nothing of the text is left out. */
export interface Cut {
  readonly node: MapNode | ListNode;
  readonly flow: boolean;
  readonly inline: boolean;
  /** Where its parts begin on their lines; 0 in brackets. */
  readonly column: number;
  /** The bracket with the blanks behind it; "" in a block. */
  readonly open: string;
  readonly parts: readonly Part[];
  /** Comments behind the last part, and the bracket. */
  readonly close: string;
}

/** A part whose value is a map or a list. */
export type Collection = Part & { readonly node: MapNode | ListNode };

/** The text of a part without what leads to it. */
export const bodyOf = ({ head, value, tail }: Part): string => head + value + tail;
