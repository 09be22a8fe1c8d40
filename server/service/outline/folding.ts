import type { Span } from "../../../core/base/span.ts";
import type { TreeNode } from "../../../core/syntax/tree.ts";
import type { View } from "../view.ts";

/** What can be folded away: from the line of `start` to the line of `end`. */
export interface Fold extends Span {
  readonly kind: "region" | "comment";
  /** What stands in its place, for clients that show it. */
  readonly summary: string;
}

/** Most folds of a document: editors slow down on more. */
export const FOLDS_CAP = 5000;

/** Fields and items of more than one line, and runs of comments. Of folds that begin on one line the larger one counts. */
export function foldsOf({ text, tree }: Pick<View, "text" | "tree">): readonly Fold[] {
  const folds: Fold[] = [];
  const add = ({ start, end }: Span, summary: string): void => {
    const span = { start, end: beforeBracket(text, end) };
    if (folds.length < FOLDS_CAP && hasLines(text, span)) folds.push({ ...span, kind: "region", summary });
  };
  const visit = (node: TreeNode | undefined): void => {
    if (node?.kind === "list") {
      for (const item of node.items) {
        if (item && item.kind !== "scalar") add(item, summaryOf(item, text));
        visit(item);
      }
    }
    if (node?.kind !== "map") return;
    for (const entry of node.entries) {
      if (entry.value) add(entry, summaryOf(entry.value, text));
      visit(entry.value);
    }
  };
  visit(tree.root);
  return [...folds, ...commentRuns(text, tree.comments)];
}

/** Fields that say best what an item is about, with their values; longer ones are cut. */
const TELLING = ["name", "axis", "at", "after", "aim", "type", "move", "of", "on"] as const;

function summaryOf(node: TreeNode, text: string): string {
  if (node.kind === "list") return node.items.length === 1 ? "1 item" : `${node.items.length} items`;
  if (node.kind !== "map") return "…";
  const telling = TELLING.flatMap((name) => node.entries.find((entry) => entry.name === name) ?? []);
  const parts = telling.flatMap(({ name, value }) => (value ? [`${name}: ${oneLine(text, value)}`] : []));
  return parts.length > 0 ? parts.join(", ") : node.entries.map(({ name }) => name).join(", ");
}

function oneLine(text: string, { start, end }: Span): string {
  const whole = text.slice(start, end).replace(/\s+/g, " ");
  return whole.length > 40 ? `${whole.slice(0, 39)}…` : whole;
}

const hasLines = (text: string, { start, end }: Span): boolean => {
  const newline = text.indexOf("\n", start);
  return newline >= 0 && newline < end;
};

/** The end of the line before, where only the closing bracket stands on the last one: it stays in sight below the fold. */
function beforeBracket(text: string, end: number): number {
  const lineStart = text.lastIndexOf("\n", end - 1) + 1;
  if (lineStart === 0 || !/^[ \t]*[\]}]$/.test(text.slice(lineStart, end))) return end;
  return text[lineStart - 2] === "\r" ? lineStart - 2 : lineStart - 1;
}

/** Comments alone on lines that follow each other. */
function commentRuns(text: string, comments: readonly Span[]): Fold[] {
  const runs: Fold[] = [];
  for (let i = 0; i < comments.length; i++) {
    if (!isAlone(text, comments[i])) continue;
    let last = i;
    while (
      last + 1 < comments.length &&
      /^\r?\n[ \t]*$/.test(text.slice(comments[last].end, comments[last + 1].start))
    ) {
      last += 1;
    }
    const { start } = comments[i];
    if (last > i) runs.push({ start, end: comments[last].end, kind: "comment", summary: oneLine(text, comments[i]) });
    i = last;
  }
  return runs;
}

const isAlone = (text: string, { start }: Span): boolean =>
  text.slice(text.lastIndexOf("\n", start - 1) + 1, start).trim() === "";
