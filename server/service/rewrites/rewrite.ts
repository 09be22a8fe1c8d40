import { capital } from "../../../core/base/capital.ts";
import type { TextEdits } from "../../../core/edit/apply-edits.ts";
import type { Rewriting } from "../../../core/edit/field-edits.ts";
import type { Proof } from "../../../core/edit/move-proof.ts";

/** Another way to write what stands at a place. */
export interface Rewrite {
  /** The same for the same action at the same place of the same text. */
  readonly id: string;
  readonly title: string;
  /** Edits, best first: the first that proves itself is made. Empty for an action that can't be done. */
  readonly ways: readonly TextEdits[];
  /** Why it cannot be done here, as a sentence. */
  readonly disabled?: string;
  /** What the edited move must still be, the best first; absent where the values are the same as they stand. */
  readonly proofs?: readonly Proof[];
  /** Whether it is proven before it is offered, so that its title says what comes of it: for what is offered seldom. */
  readonly beforehand?: boolean;
  /** Whether it is one of several amounts, for which a client may ask instead. */
  readonly asks?: boolean;
}

/** Edits that are proven, and what there is to say of them as a clause; or why there are none. */
export type Proven = { readonly edits: TextEdits; readonly note?: string } | { readonly refusal: string };

/** An action from the ways to do it; disabled where there are only reasons why not. */
export function rewrite(
  id: string,
  title: string,
  made: readonly (Rewriting | undefined)[],
  proofs: readonly Proof[],
): Rewrite[] {
  const ways = made.flatMap((way) => (way && "edits" in way && 0 < way.edits.length ? [way.edits] : []));
  if (0 < ways.length) return [{ id, title, ways, proofs }];
  const refused = made.find((way) => way && "refusal" in way);
  if (!refused || "edits" in refused) return [];
  return [{ id, title, ways, disabled: `${capital(refused.refusal)}.` }];
}
