import assert from "node:assert/strict";
import { applyEdits } from "../../core/edit/apply-edits.ts";
import type { ShapeIntent } from "../../core/edit/shape/intent.ts";
import { shapeMove } from "../../core/edit/shape/shape-move.ts";
import type { ShapedMove, ShapeStop } from "../../core/edit/shape/shaped.ts";
import { parseTree } from "../../core/syntax/parse.ts";
import type { Solved } from "../../server/service/view.ts";
import { KIT } from "../fixtures/kit.ts";
import { viewOf } from "./rewritten.ts";

type Files = Readonly<Record<string, string>>;

export function solvedOfText(text: string, file: string, files: Files = {}): Solved {
  const view = viewOf(text, file, files);
  assert.ok(view.solved, view.analysis.textFindings.map(({ message }) => message).join("; "));
  return view.solved;
}

/** A move of the kit that is ready to be shaped. */
export function shapedMove(text: string, file = "m.move.yaml", files: Files = {}): ShapedMove {
  const { move, trajectory, origins } = solvedOfText(text, file, files);
  const format = file.endsWith("json") ? "json" : "yaml";
  return {
    text,
    tree: parseTree(text, format),
    move,
    trajectory,
    origins,
    file,
    other(name) {
      const other = { ...KIT, ...files }[name];
      return other === undefined ? undefined : { text: other, tree: parseTree(other, "yaml") };
    },
  };
}

export interface ShapedText {
  /** The text that changes, as it is then. */
  readonly text: string;
  readonly file: string;
  readonly says: string;
  readonly stop?: ShapeStop;
  /** The move as it is solved from its text then. */
  readonly solved: Solved;
}

export function shaped(text: string, intent: ShapeIntent, file = "m.move.yaml", files: Files = {}): ShapedText {
  const made = shapeMove(shapedMove(text, file, files), intent);
  assert.ok(!("refusal" in made), "refusal" in made ? made.refusal : "");
  const { edits, ...rest } = made;
  const isOwn = made.file === file;
  const before = isOwn ? text : { ...KIT, ...files }[made.file];
  const after = applyEdits(before, edits);
  const solved = isOwn ? solvedOfText(after, file, files) : solvedOfText(text, file, { ...files, [made.file]: after });
  return { ...rest, text: after, solved };
}

export function refusalOf(text: string, intent: ShapeIntent, file = "m.move.yaml", files: Files = {}): string {
  const made = shapeMove(shapedMove(text, file, files), intent);
  assert.ok("refusal" in made, "it is not refused");
  return made.refusal;
}
