import type { Bit } from "./bits.ts";
import type { Collection } from "./part.ts";
import type { Said } from "./said.ts";
import type { Shapes } from "./shapes.ts";
import type { Three, Timing } from "./sides.ts";

/** A merged stretch of text, with what it says for each choice. */
export interface Merged {
  readonly bits: readonly Bit[];
  readonly ours: Said;
  readonly theirs: Said;
}

/** What every step of a merge knows. */
export interface Merging {
  readonly timing: Timing | undefined;
  /** How maps and lists are merged, which holds how their parts are, which may be maps and lists. */
  readonly mergeCollection: (merging: Merging, three: Three<Collection>, shapes: Shapes) => Merged;
}
