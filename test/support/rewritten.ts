import assert from "node:assert/strict";
import { runToEnd } from "../../core/base/task.ts";
import { analyse, createMemo } from "../../core/checks/analyse.ts";
import { applyEdits } from "../../core/edit/apply-edits.ts";
import { createInstantPair, differenceAt } from "../../core/edit/instant-difference.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import { parseTree } from "../../core/syntax/parse.ts";
import type { Rewrite } from "../../server/service/rewrites/rewrite.ts";
import { provenEdits, rewritesAt } from "../../server/service/rewrites/rewrites.ts";
import { solvedOf, type View } from "../../server/service/view.ts";
import { KIT } from "../fixtures/kit.ts";
import { memorySources } from "../fixtures/memory-sources.ts";

/** The kit's documents are read once. */
const memo = createMemo();

export function viewOf(text: string, file: string, files: Marked["files"] = {}): View {
  const ours = documentKind(file);
  assert.ok(ours, file);
  const sources = memorySources(new Map([...Object.entries({ ...KIT, ...files }), [file, text]]));
  const analysis = runToEnd(analyse(file, sources, memo));
  const parse = (other: string) => parseTree(other, file.endsWith("json") ? "json" : "yaml");
  const view = { file, kind: ours.kind, text, tree: parse(text), parse, analysis, solved: solvedOf(analysis), sources };
  return { ...view, names: () => undefined } as unknown as View;
}

/** A document with `|` where the cursor stands. */
export interface Marked {
  readonly text: string;
  readonly file: string;
  /** Documents beside it and the kit. */
  readonly files?: Readonly<Record<string, string>>;
}

/** What is offered where the cursor stands. */
export function offersAt({ text, file, files }: Marked): { readonly view: View; readonly offers: readonly Rewrite[] } {
  const offset = text.indexOf("|");
  assert.ok(0 <= offset, "a cursor");
  const view = viewOf(text.slice(0, offset) + text.slice(offset + 1), file, files);
  return { view, offers: rewritesAt(view, { start: offset, end: offset }) };
}

export function offerOf(marked: Marked, title: RegExp): { readonly view: View; readonly offer: Rewrite } {
  const { view, offers } = offersAt(marked);
  const offer = offers.find((one) => title.test(one.title));
  assert.ok(offer, `${String(title)} among ${offers.map((one) => one.title).join("; ")}`);
  return { view, offer };
}

/** What becomes of an action: the text after it, or why it is not done. */
export async function rewritten(marked: Marked, title: RegExp): Promise<{ text: string } | { refusal: string }> {
  const { view, offer } = offerOf(marked, title);
  const made = await provenEdits(view, offer, async (text) => {
    // One turn of the loop stands for the server's queue.
    await Promise.resolve();
    return viewOf(text, marked.file, marked.files).analysis;
  });
  return "edits" in made ? { text: applyEdits(view.text, made.edits) } : made;
}

/** Asserts the whole text after an action. */
export async function assertRewritten(marked: Marked, title: RegExp, after: string): Promise<void> {
  const made = await rewritten(marked, title);
  assert.ok("text" in made, "refusal" in made ? made.refusal : "");
  assert.equal(made.text, after);
}

/** How far two moves are apart at most, looked at 500 times [m, rad]. */
export function apart(one: string, other: string, file: string): number {
  const [a, b] = [viewOf(one, file), viewOf(other, file)].map((view) => {
    assert.ok(view.solved, view.analysis.textFindings.map(({ message }) => message).join("; "));
    return view.solved.trajectory;
  });
  const pair = createInstantPair(a, b);
  assert.ok(Math.abs(a.duration - b.duration) < 1e-6, `${a.duration} s and ${b.duration} s`);
  return Math.max(...Array.from({ length: 501 }, (_, i) => differenceAt(pair, (i * a.duration) / 500)));
}
