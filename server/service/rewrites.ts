import type { Span } from "../../core/base/span.ts";
import { formatQuantity } from "../../core/base/units.ts";
import type { Analysis } from "../../core/checks/analysis.ts";
import { addKey } from "../../core/edit/add-key.ts";
import { applyEdits, type TextEdits } from "../../core/edit/apply-edits.ts";
import type { Rewriting } from "../../core/edit/field-edits.ts";
import { keyMap } from "../../core/edit/key-item.ts";
import { disproof, type Proof } from "../../core/edit/move-proof.ts";
import { restateTimes } from "../../core/edit/restate-times.ts";
import { writeAxes, writeCamera, type SolvedText } from "../../core/edit/write-axes.ts";
import { keyAtOffset } from "./key-place.ts";
import { unitRewrites } from "./unit-rewrites.ts";
import type { View } from "./view.ts";

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
}

/** What can be written in another way at a place of a document. Nothing is analysed for it. */
export function rewritesAt(view: View, span: Span): readonly Rewrite[] {
  return [...keyRewrites(view, span), ...unitRewrites(view, span.start)];
}

/** The edits of a rewrite that keep the move as it says, found by analysing the edited text; or why there are none. */
export async function provenEdits(
  view: View,
  { ways, proofs, disabled }: Rewrite,
  analyse: (text: string) => Promise<Analysis | undefined>,
): Promise<Rewriting> {
  const [first] = ways;
  if (!first) return { refusal: disabled ?? "it cannot be written here" };
  if (!proofs) return { edits: first };
  const analyses = new Map<TextEdits, Analysis | undefined>();
  let refusal = "";
  for (const proof of proofs) {
    for (const edits of ways) {
      const after = analyses.has(edits) ? analyses.get(edits) : await analyse(applyEdits(view.text, edits));
      analyses.set(edits, after);
      const reason = disproof(view.analysis, after, proof);
      if (reason === undefined) return { edits };
      refusal = reason;
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
  return [...valueRewrites(document, key), ...addRewrites(document, key), ...timeRewrites(document, key)];
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
  // A channel with one knot more may go another way between its knots, if none leaves the motion as it is.
  const proofs = [...SAME, { kind: "same-instant", time: added.time, key: "the new key" } as const];
  return rewrite("add-key", `${title}, at ${formatQuantity(added.time, "time")}`, added.ways, proofs);
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

/** An action from the ways to do it; disabled where there are only reasons why not. */
function rewrite(
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

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
