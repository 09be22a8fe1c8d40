import { addKeyAt } from "../../../core/edit/add-key.ts";
import { readAmount, shiftBehind, shiftKeys } from "../../../core/edit/times/shift-keys.ts";
import type { Proof } from "../../../core/edit/move-proof.ts";
import type { SolvedText } from "../../../core/edit/write-axes.ts";
import { keyList } from "../../../core/edit/key-item.ts";
import { keyAtOffset } from "../key-place.ts";
import { rewrite, type Rewrite } from "./rewrite.ts";
import type { View } from "../view.ts";

/** An edit of a move that a command asks for with a value of its own. */
export type AskedEdit =
  /** The key at an offset of the text, and all later ones, by an amount of time as a person writes it. */
  | { readonly kind: "shift-keys"; readonly offset: number; readonly by: string }
  /** A key on the way, at a time of the move [s, played]. */
  | { readonly kind: "add-key"; readonly time: number };

const NOT_SOLVED = "the move cannot be solved as it stands: mend what it says of that first";

/** The ways to make an edit that is asked for, or why there is none, as a clause. Nothing is analysed for it. */
export function askedEdit(view: View, asked: AskedEdit): Rewrite | { readonly refusal: string } {
  const { solved, text, tree } = view;
  if (view.kind !== "move") return { refusal: "this is no move" };
  if (!solved || solved.stale) return { refusal: NOT_SOLVED };
  const document: SolvedText = { text, tree, move: solved.move, trajectory: solved.trajectory };
  if (asked.kind === "add-key") {
    const added = addKeyAt(document, asked.time);
    if ("refusal" in added) return added;
    const [made] = rewrite("add-key", "Add a key", added.ways, addedProofs(added.time));
    return made ?? { refusal: "no key can be written there" };
  }
  const key = keyAtOffset(solved, view.file, asked.offset);
  if (key === undefined) return { refusal: "the cursor is in no key" };
  const by = readAmount(asked.by, document.move);
  if (!by.ok) return { refusal: by.message };
  if (by.value === 0) return { refusal: "0 s shifts nothing" };
  const made = shiftKeys(document, key, by.value);
  return "refusal" in made ? made : { id: "shift-keys", title: "Shift keys", ways: [made.edits], proofs: SHIFTED };
}

/** What a move with a key more must still be: as it was; else the same at that key, and what changes beside it is told. */
export const addedProofs = (time: number): readonly Proof[] => [
  { kind: "same-motion" },
  { kind: "same-instant", time, key: "the new key" },
];

/** Whoever shifts keys wants another motion: it must be one, and what is found of it is told. */
const SHIFTED: readonly Proof[] = [
  { kind: "solved", findings: "none" },
  { kind: "solved", findings: "told" },
];

/** Amounts [s] that keys are shifted by at once. */
const AMOUNTS = [
  { id: "later", by: 1, words: "1 s later" },
  { id: "earlier", by: -1, words: "1 s earlier" },
] as const;

/** Actions that shift a key and all later ones, for editors in which no amount can be asked for. */
export function shiftRewrites(document: SolvedText, key: number): Rewrite[] {
  if (key === 0) return [];
  const { time } = document.move.keys[key];
  const whole = Math.ceil(time - 1e-9);
  const up = whole - time;
  const more =
    1e-6 < up && document.move.speed === 1
      ? [{ id: "whole", by: up, words: `to the next whole second, ${whole} s` }]
      : [];
  const made = [...AMOUNTS, ...more].flatMap(({ id, by, words }) =>
    rewrite(`shift-${id}`, `Shift this key and all later ones ${words}`, [shiftKeys(document, key, by)], SHIFTED),
  );
  return made.map((one) => ({ ...one, asks: true }));
}

/** From the key before to one that did not come after it [s]. */
const GAP = 1;

/** The action on a key that does not come after the one before it, so that it is no key of the move as it stands. */
export function orderRewrites({ kind, analysis, text, tree }: View, offset: number): Rewrite[] {
  const { move } = analysis;
  const items = keyList({ tree })?.items ?? [];
  const key = items.findIndex((item, i) => item && item.start <= offset && offset < (items[i + 1]?.start ?? Infinity));
  if (kind !== "move" || !move || key < 1) return [];
  const title = `Let this key come ${GAP} s after the one before, and all later ones along`;
  return rewrite("shift-behind", title, [shiftBehind({ text, tree, move }, key, GAP)], SHIFTED);
}
