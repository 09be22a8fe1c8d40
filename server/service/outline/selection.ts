import type { Span } from "../../../core/base/span.ts";
import type { TreeNode } from "../../../core/syntax/tree.ts";
import type { View } from "../view.ts";

/**
 * What a selection at `offset` grows to, the innermost first: what is inside quotes, the value, its field, the map or list
 * around it, up to the whole text. Each holds the one before and is larger.
 */
export function selectionsAt({ text, tree }: Pick<View, "text" | "tree">, offset: number): readonly Span[] {
  const around: Span[] = [{ start: 0, end: text.length }];
  const grow = (span: Span): void => {
    const last = around[around.length - 1];
    const isInside = last.start <= span.start && span.end <= last.end;
    if (isInside && (last.start < span.start || span.end < last.end)) around.push({ start: span.start, end: span.end });
  };
  const visit = (node: TreeNode | undefined): void => {
    if (!node || !holds(node, offset)) return;
    grow(node);
    if (node.kind === "scalar" && node.style === "quoted" && node.start < offset && offset < node.end) {
      grow({ start: node.start + 1, end: node.end - 1 });
    }
    if (node.kind === "list") node.items.forEach(visit);
    if (node.kind !== "map") return;
    const entry = node.entries.find((each) => holds(each, offset));
    if (!entry) return;
    grow(entry);
    if (holds(entry.nameSpan, offset)) grow(entry.nameSpan);
    else visit(entry.value);
  };
  visit(tree.root);
  const comment = tree.comments.find((each) => holds(each, offset));
  if (comment) grow(comment);
  return around.reverse();
}

const holds = ({ start, end }: Span, offset: number): boolean => start <= offset && offset <= end;
