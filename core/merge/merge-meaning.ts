import type { DocumentKind, TextFormat } from "../model/document-kind.ts";
import { indexLines } from "../syntax/lines.ts";
import { parseTree } from "../syntax/parse.ts";
import type { Tree, TreeNode } from "../syntax/tree.ts";
import { flat, isClean, type Choice } from "./bits.ts";
import { mergeDocument } from "./merge-document.ts";
import type { Merged } from "./merging.ts";
import { regionsOf, type Region } from "./regions.ts";
import { saidOf } from "./said.ts";
import { NotCut, type Side, type Three } from "./sides.ts";

/** Why texts are not merged by what they say. */
export interface Unmerged {
  /** A sentence without its full stop. */
  readonly reason: string;
  /** True where they must not pass without a conflict. */
  readonly isConflict?: boolean;
  /** True where all three can be read. */
  readonly isSound?: boolean;
}

/** Merges texts of a document by what they say, and proves that the result says that. */
export function mergeMeaning(
  texts: Three<string>,
  { kind, format }: { readonly kind: DocumentKind; readonly format: TextFormat },
): { readonly regions: readonly Region[] } | Unmerged {
  const side = (text: string): Side => ({ text, tree: parseTree(text, format) });
  const sides = {
    base: texts.base === undefined ? undefined : side(texts.base),
    ours: side(texts.ours),
    theirs: side(texts.theirs),
  };
  const fault =
    faultOf("the common ancestor", sides.base) ??
    faultOf("our side", sides.ours) ??
    faultOf("their side", sides.theirs);
  if (fault !== undefined) return { reason: fault };
  if ([sides.base, sides.ours, sides.theirs].some((one) => one && hasAlias(one.tree.root))) {
    return { reason: "it has aliases (`*name`), by which a change in one place is one in another", isSound: true };
  }
  try {
    const merged = mergeDocument(sides, kind);
    if (isProven(merged, sides, format)) return { regions: regionsOf(merged.bits) };
    return { reason: "its layout does not let its parts be put together", isConflict: true, isSound: true };
  } catch (error) {
    if (!(error instanceof NotCut)) throw error;
    return { reason: "the sides are laid out in ways that cannot be put together", isConflict: true, isSound: true };
  }
}

function faultOf(name: string, side: Side | undefined): string | undefined {
  const problem = side?.tree.problems[0];
  if (!side || !problem) return undefined;
  const line = indexLines(side.text).position(problem.span.start).line + 1;
  return `${name} cannot be read at line ${line}: ${problem.message.replace(/\.$/, "")}`;
}

function hasAlias(node: TreeNode | undefined): boolean {
  if (!node || node.kind === "scalar") return false;
  if (node.kind === "alias") return true;
  const inner = node.kind === "map" ? node.entries.map(({ value }) => value) : node.items;
  return inner.some(hasAlias);
}

/** Reads what would be written, with each side's choice, and compares: it says what was meant, and no comment got lost. */
function isProven(merged: Merged, sides: Three<Side>, format: TextFormat): boolean {
  const choices: readonly Choice[] = isClean(merged.bits) ? ["ours"] : ["ours", "theirs"];
  const trees = choices.map((choice) => parseTree(flat(merged.bits, choice), format));
  const isSaid = trees.every((tree, i) => tree.problems.length === 0 && saidOf(tree.root) === merged[choices[i]]);
  return isSaid && keepsComments(trees, sides);
}

/** Each comment stands there as often as the sides left it: what one of them deleted may be gone, nothing else. */
function keepsComments(trees: readonly Tree[], { base, ours, theirs }: Three<Side>): boolean {
  const [old, mine, other] = [base?.tree, ours.tree, theirs.tree].map(countComments);
  const found = trees.map(countComments);
  return [...new Set([...mine.keys(), ...other.keys()])].every((text) => {
    const [b, o, t] = [old, mine, other].map((counts) => counts.get(text) ?? 0);
    const least = Math.min(Math.max(o, t), Math.max(0, o + t - b));
    return least <= Math.max(...found.map((counts) => counts.get(text) ?? 0));
  });
}

function countComments(tree: Tree | undefined): Map<string, number> {
  const out = new Map<string, number>();
  for (const { text } of tree?.comments ?? []) out.set(text, (out.get(text) ?? 0) + 1);
  return out;
}
