import type { FileId } from "../../base/span.ts";
import type { Vec2, Vec3 } from "../../base/vec3.ts";
import type { OriginTable } from "../../model/origin-table.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { TextEdits } from "../apply-edits.ts";
import type { Written } from "../field-edits.ts";
import type { SolvedText } from "../write-axes.ts";

/** A solved move to be shaped, and the other documents that it is made of. */
export interface ShapedMove extends SolvedText {
  readonly file: FileId;
  readonly origins: OriginTable;
  /** Text and tree of another document; `undefined` for one that is not known. */
  other(file: FileId): Written | undefined;
}

/** Where a wish ends that cannot be had, and why, as a sentence without its full stop. */
export interface ShapeStop {
  readonly words: string;
  /** The nearest place that can be had: in the set [m], or in the captured picture. */
  readonly at?: Vec3 | Vec2;
}

/** The edits that come nearest to what was wanted. No edit where the text says it already. */
export interface Shaped {
  /** The document whose text changes: the move's own, or its set's. */
  readonly file: FileId;
  readonly edits: TextEdits;
  /** What is then written, as people read it: `` `top` comes at 2.36 s ``. */
  readonly says: string;
  readonly stop?: ShapeStop;
}

/** Edits, or why there are none, as a sentence without its full stop. */
export type Shaping = Shaped | { readonly refusal: string };

export const keyLabel = ({ keys }: ResolvedMove, key: number): string => `\`${keys[key].label}\``;

/** Why a value that has more places than the one that is shaped, or none, is left alone. */
export const repeated = (what: string) => ({
  refusal: `${what} is repeated elsewhere (\`&name\`, \`*name\`), or not written as one value: write it out first`,
});
