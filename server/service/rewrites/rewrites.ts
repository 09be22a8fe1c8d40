import type { Span } from "../../../core/base/span.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import type { Analysis } from "../../../core/checks/analysis.ts";
import { addKey } from "../../../core/edit/add-key.ts";
import { applyEdits, type TextEdits } from "../../../core/edit/apply-edits.ts";
import { keyMap } from "../../../core/edit/key-item.ts";
import { judge, type Proof } from "../../../core/edit/move-proof.ts";
import { restateTimes } from "../../../core/edit/times/restate-times.ts";
import { writeAxes, writeCamera, type SolvedText } from "../../../core/edit/write-axes.ts";
import { addedProofs, orderRewrites, shiftRewrites } from "./asked-edits.ts";
import { keyAtOffset } from "../key-place.ts";
import { moveRewrites } from "./move-rewrites.ts";
import { rewrite, type Proven, type Rewrite } from "./rewrite.ts";
import { unitRewrites } from "./unit-rewrites.ts";
import type { View } from "../view.ts";

/** What can be written in another way at a place of a document. Nothing is analysed for it. */
export function rewritesAt(view: View, span: Span): readonly Rewrite[] {
  return [
    ...keyRewrites(view, span),
    ...orderRewrites(view, span.start),
    ...moveRewrites(view, span.start),
    ...unitRewrites(view, span.start),
  ];
}

/** The edits of a rewrite that keep the move as it says, found by analysing the edited text; or why there are none. */
export async function provenEdits(
  view: View,
  { ways, proofs, disabled }: Rewrite,
  analyse: (text: string) => Promise<Analysis | undefined>,
): Promise<Proven> {
  const [first] = ways;
  if (!first) return { refusal: disabled ?? "it cannot be written here" };
  if (!proofs) return { edits: first };
  const analyses = new Map<TextEdits, Analysis | undefined>();
  let refusal = "";
  for (const proof of proofs) {
    for (const edits of ways) {
      const after = analyses.has(edits) ? analyses.get(edits) : await analyse(applyEdits(view.text, edits));
      analyses.set(edits, after);
      const judged = judge(view.analysis, after, proof);
      if (!("refusal" in judged)) return { edits, ...judged };
      refusal = judged.refusal;
    }
  }
  return { refusal };
}

/** Actions on the key that the cursor stands in, while the move is solved as it stands. */
function keyRewrites(view: View, span: Span): readonly Rewrite[] {
  const { solved, text, tree } = view;
  if (!solved || solved.stale) return [];
  const { move, trajectory } = solved;
  const key = keyAtOffset(solved, view.file, span.start);
  const document: SolvedText = { text, tree, move, trajectory };
  if (key === undefined || !keyMap(document, key)) return [];
  return [
    ...valueRewrites(document, key),
    ...addRewrites(document, key),
    ...shiftRewrites(document, key),
    ...timeRewrites(document, key),
  ];
}

function valueRewrites(document: SolvedText, key: number): Rewrite[] {
  const { time, camera, label } = document.move.keys[key];
  const proofs: readonly Proof[] = [{ kind: "same-instant", time, key: label }];
  const axes = camera ? "Turn this camera key into an axes key" : "Write the solved axes into this key";
  const points = (["stored", "exact"] as const).map((fineness) => writeCamera(document, key, fineness));
  return [
    ...rewrite("write-axes", axes, [writeAxes(document, key)], proofs),
    ...rewrite("write-camera", "Turn this axes key into a camera key", points, proofs),
  ];
}

function addRewrites(document: SolvedText, key: number): Rewrite[] {
  const added = addKey(document, key);
  if (!added) return [];
  const title = "Add a key half way to the next";
  if ("refusal" in added) return rewrite("add-key", title, [added], SAME);
  return rewrite("add-key", `${title}, at ${formatQuantity(added.time, "time")}`, added.ways, addedProofs(added.time));
}

function timeRewrites(document: SolvedText, key: number): Rewrite[] {
  const all = document.move.keys.map((_, i) => i);
  return (["after", "at"] as const).flatMap((field) => {
    const from = TIMES[field];
    const scopes = [
      { name: "key", title: `State this key's time ${from}`, keys: [key] },
      { name: "all", title: `State the times of all keys ${from}`, keys: all },
      { name: "later", title: `State the times of all later keys ${from}`, keys: all.filter((i) => key < i) },
    ];
    const made = scopes.map((scope) => ({ ...scope, made: restateTimes(document, scope.keys, field) }));
    // What comes to the same edits is offered once.
    const texts = made.map((scope) => JSON.stringify(scope.made));
    return made
      .filter((_, i) => texts.indexOf(texts[i]) === i)
      .flatMap((scope) => rewrite(`${field}-${scope.name}`, scope.title, [scope.made], SAME));
  });
}

const TIMES: Readonly<Record<"at" | "after", string>> = {
  after: "from the key before (`after`)",
  at: "from the beginning (`at`)",
};

/** Nothing moves otherwise than it did. */
const SAME: readonly Proof[] = [{ kind: "same-motion" }];
