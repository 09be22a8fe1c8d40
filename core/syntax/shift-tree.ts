import type { Span } from "../base/span.ts";
import type { Comment, MapEntry, TreeNode, TreeProblem } from "./tree.ts";

const moved = ({ start, end }: Span, by: number): Span => ({ start: start + by, end: end + by });

/** The same values `by` characters further on. What an alias stands for stays where it is: see `hasAlias`. */
export function shiftNode<T extends TreeNode | undefined>(node: T, by: number): T;
export function shiftNode(node: TreeNode | undefined, by: number): TreeNode | undefined {
  if (!node || by === 0) return node;
  const start = node.start + by;
  const end = node.end + by;
  switch (node.kind) {
    case "scalar":
      return { kind: "scalar", start, end, value: node.value, style: node.style };
    case "list":
      return { kind: "list", start, end, items: node.items.map((item) => shiftNode(item, by)), flow: node.flow };
    case "map":
      return { kind: "map", start, end, entries: node.entries.map((entry) => shiftEntry(entry, by)), flow: node.flow };
    case "alias":
      return { kind: "alias", start, end, target: node.target };
  }
}

export function shiftEntry(entry: MapEntry, by: number): MapEntry {
  if (by === 0) return entry;
  const { name, nameSpan, value, start, end } = entry;
  return { name, nameSpan: moved(nameSpan, by), value: shiftNode(value, by), start: start + by, end: end + by };
}

export const shiftComment = (comment: Comment, by: number): Comment =>
  by === 0 ? comment : { ...moved(comment, by), text: comment.text };

/** A problem without a cure, as those of YAML are. */
export const shiftProblem = (problem: TreeProblem, by: number): TreeProblem =>
  by === 0 ? problem : { ...problem, span: moved(problem.span, by) };

export function hasAlias(node: TreeNode | undefined): boolean {
  if (!node || node.kind === "scalar") return false;
  if (node.kind === "alias") return true;
  if (node.kind === "list") return node.items.some(hasAlias);
  return node.entries.some(({ value }) => hasAlias(value));
}
