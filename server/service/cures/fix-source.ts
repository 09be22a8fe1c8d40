import type { FindingCode } from "../../../core/base/finding-code.ts";
import type { Task } from "../../../core/base/task.ts";
import { isSamePlain, plainData } from "../../../core/dialect/plain-data.ts";
import type { TextEdits } from "../../../core/edit/apply-edits.ts";
import { composedEdits } from "../../../core/edit/composed-edits.ts";
import { judge } from "../../../core/edit/move-proof.ts";
import { fixAll } from "./fix-all.ts";
import type { View } from "../view.ts";

/** Codes whose cures change no motion: signs that JSON does not have, and an `allow` that allows nothing. */
const MEANS_THE_SAME: readonly FindingCode[] = ["syntax", "allow"];

/**
 * All cures of a document that change nothing of what it says: the edited text is read to the same values, or the move that it
 * says goes the same way at all times. `undefined` where there is none.
 */
export function* fixSource(view: View): Task<{ readonly edits: TextEdits } | undefined> {
  const steps: TextEdits[] = [];
  let now = view;
  for (const code of MEANS_THE_SAME) {
    const made = yield* fixAll(now, code);
    if (!made || !meansTheSame(now, made.after)) continue;
    steps.push(made.edits);
    now = made.after;
  }
  return steps.length === 0 ? undefined : { edits: composedEdits(view.text.length, steps) };
}

function meansTheSame(before: View, after: View): boolean {
  const [old, now] = [before, after].map(({ tree, text }) => plainData(tree.root, text));
  if (isSamePlain(old, now)) return true;
  return before.kind === "move" && !("refusal" in judge(before.analysis, after.analysis, { kind: "same-motion" }));
}
