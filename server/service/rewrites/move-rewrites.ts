import type { Proof } from "../../../core/edit/move-proof.ts";
import { mirrorMove } from "../../../core/edit/mirror/mirror-move.ts";
import { mirrorPlanes } from "../../../core/edit/mirror/mirror-planes.ts";
import { reverseMove } from "../../../core/edit/reverse/reverse-move.ts";
import type { SolvedText } from "../../../core/edit/write-axes.ts";
import { entryOf } from "../../../core/syntax/tree.ts";
import { rewrite, type Rewrite } from "./rewrite.ts";
import type { View } from "../view.ts";

/** Fields that speak of the whole move: where it is rewritten as a whole. */
const WHOLE = ["move", "title", "keys"] as const;

/** Actions on the whole move, at its first fields and at the name of its keys, while it is solved as it stands. */
export function moveRewrites(view: View, offset: number): readonly Rewrite[] {
  const { solved, text, tree } = view;
  if (!solved || solved.stale || !isWhole(view, offset)) return [];
  const { move, trajectory } = solved;
  const document: SolvedText = { text, tree, move, trajectory };
  return [...reverseRewrites(document), ...mirrorRewrites(document)].map((one) => ({ ...one, beforehand: true }));
}

function isWhole({ tree }: View, offset: number): boolean {
  return WHOLE.some((name) => {
    const entry = entryOf(tree.root, name);
    if (!entry) return false;
    const { start, end } = name === "keys" ? entry.nameSpan : entry;
    return start <= offset && offset <= end;
  });
}

function reverseRewrites(document: SolvedText): Rewrite[] {
  const made = reverseMove(document);
  if (!made) return [];
  return rewrite("reverse", "Reverse the move, from its last key to its first", made, REVERSED);
}

/** What brings no new finding first. */
const REVERSED: readonly Proof[] = [
  { kind: "reversed", findings: "none" },
  { kind: "reversed", findings: "told" },
];

/** The planes in which the move can be mirrored; where none will do, the first with its reason. */
function mirrorRewrites(document: SolvedText): Rewrite[] {
  const offers = mirrorPlanes(document.move).flatMap(({ id, words, plane }) => {
    const { rewriting, by, movesBase, byCamera } = mirrorMove(document, plane);
    const base = movesBase ? ", and the base of the rig with it" : "";
    const proofs = (byCamera ? (["always", "at-keys"] as const) : (["always"] as const)).flatMap((when) =>
      (["none", "told"] as const).map((findings): Proof => ({ kind: "mirrored", by, when, findings })),
    );
    return rewrite(`mirror-${id}`, `Mirror the move about ${words}${base}`, [rewriting], proofs);
  });
  const able = offers.filter(({ disabled }) => disabled === undefined);
  return 0 < able.length ? able : offers.slice(0, 1);
}
