import type { Span } from "../base/span.ts";
import type { ListNode, MapNode, TreeNode } from "../syntax/tree.ts";
import { isNote, shifted } from "./lines.ts";
import type { Cut, Part } from "./part.ts";
import { NotCut, type Side } from "./sides.ts";

/** A map or list in brackets, taken apart at its commas. Throws `NotCut` where something else stands between its parts. */
export function cutFlow(side: Side, node: MapNode | ListNode, shift: number): Cut {
  const { text } = side;
  const children = childrenOf(node);
  const inner = (from: number, to: number): string => shifted(text.slice(from, to), shift, "later lines");
  const first = children[0]?.start ?? node.end - 1;
  if (!isNote(text.slice(node.start + 1, first))) throw new NotCut("Something stands before the first part.");
  let lead: string | undefined;
  let last = first;
  const parts = children.map(({ name, value, start, end }, i): Part => {
    const next = children[i + 1];
    const gap = next ? splitGap(text.slice(end, next.start)) : { before: "", after: "" };
    const region = { start: value?.start ?? end, end, inline: true };
    last = end + gap.before.length;
    const part: Part = {
      side,
      name,
      node: value,
      lead,
      head: inner(start, region.start),
      value: inner(region.start, end),
      tail: inner(end, last),
      region,
      span: { start, end: last },
    };
    lead = shifted(gap.after, shift, "later lines");
    return part;
  });
  if (!isNote(text.slice(last, node.end - 1).replace(",", ""))) throw new NotCut("Something follows the last part.");
  return {
    node,
    flow: true,
    inline: true,
    column: 0,
    open: inner(node.start, first),
    parts,
    close: inner(last, node.end),
  };
}

interface Child extends Span {
  readonly name: string;
  readonly value: TreeNode | undefined;
}

function childrenOf(node: MapNode | ListNode): Child[] {
  if (node.kind === "map") return node.entries.map(({ name, value, start, end }) => ({ name, value, start, end }));
  return node.items.map((item) => {
    if (!item) throw new NotCut("An empty item.");
    return { name: "", value: item, start: item.start, end: item.end };
  });
}

/** What stands before and after the comma between two parts: blanks and comments, in which a comma is none. */
function splitGap(gap: string): { readonly before: string; readonly after: string } {
  let at = 0;
  while (at < gap.length && gap[at] !== ",") at = gap[at] === "#" ? endOfLine(gap, at) : at + 1;
  const [before, after] = [gap.slice(0, at), gap.slice(at + 1)];
  if (at === gap.length || !isNote(before) || !isNote(after)) throw new NotCut("No single comma between two parts.");
  return { before, after };
}

function endOfLine(text: string, at: number): number {
  const end = text.indexOf("\n", at);
  return end < 0 ? text.length : end;
}
