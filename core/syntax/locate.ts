import type { Span } from "../base/span.ts";
import { valueOf, type MapEntry, type Tree, type TreeNode } from "./tree.ts";

/** Names of fields and numbers of list items, from the root. */
export type Path = readonly (string | number)[];

/** What stands at an offset of a text. */
export interface Location {
  /** To the value, entry or item that holds the offset. */
  readonly path: Path;
  /** The innermost node that holds the offset; absent where a name has no value yet. */
  readonly node: TreeNode | undefined;
  /** The innermost entry that holds the offset. */
  readonly entry: MapEntry | undefined;
  /** True on the name of `entry`, false on or before its value. */
  readonly onName: boolean;
}

/**
 * The path to the innermost value whose span holds `offset`, its end included: a cursor behind the last letter of a
 * word still stands on it. Aliases are leaves. Between values, the path of what surrounds the offset.
 */
export function pathAt(tree: Tree, offset: number): Location {
  const path: (string | number)[] = [];
  let node = tree.root;
  let entry: MapEntry | undefined;
  for (;;) {
    const inner = node && step(node, offset);
    if (!inner) return { path, node, entry, onName: false };
    path.push(inner.step);
    if (inner.entry) {
      entry = inner.entry;
      if (offset <= entry.nameSpan.end) return { path, node: entry.value, entry, onName: true };
    }
    node = inner.node;
    if (!node) return { path, node, entry, onName: false };
  }
}

const holds = ({ start, end }: Span, offset: number): boolean => start <= offset && offset <= end;

interface Step {
  readonly step: string | number;
  readonly node: TreeNode | undefined;
  readonly entry?: MapEntry;
}

function step(node: TreeNode, offset: number): Step | undefined {
  if (node.kind === "map") {
    const entry = node.entries.find((each) => holds(each, offset));
    return entry && { step: entry.name, node: entry.value, entry };
  }
  if (node.kind === "list") {
    const index = node.items.findIndex((item) => item && holds(item, offset));
    return index < 0 ? undefined : { step: index, node: node.items[index] };
  }
  return undefined;
}

/** The node at a path, through aliases; `undefined` when there is none. */
export function nodeAt(tree: Tree, path: Path): TreeNode | undefined {
  let node = tree.root;
  for (const part of path) {
    const value = valueOf(node);
    if (typeof part === "number") node = value?.kind === "list" ? value.items[part] : undefined;
    else node = value?.kind === "map" ? value.entries.find((entry) => entry.name === part)?.value : undefined;
    if (!node) return undefined;
  }
  return node;
}
