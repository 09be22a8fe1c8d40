import type { DocumentCode } from "../base/finding-code.ts";
import type { Span } from "../base/span.ts";

/** YAML and JSON give the same tree. Offsets are UTF-16, `[start, end)`; a node's span is its value without what follows. */
export type TreeNode = MapNode | ListNode | ScalarNode | AliasNode;

export interface MapNode extends Span {
  readonly kind: "map";
  readonly entries: readonly MapEntry[];
  /** Written as `{ .. }`. */
  readonly flow: boolean;
}

/** From the start of its name to the end of its value. */
export interface MapEntry extends Span {
  readonly name: string;
  readonly nameSpan: Span;
  /** Absent where nothing is written after the name. */
  readonly value: TreeNode | undefined;
}

export interface ListNode extends Span {
  readonly kind: "list";
  /** `undefined` for an item that holds nothing. */
  readonly items: readonly (TreeNode | undefined)[];
  readonly flow: boolean;
}

export type Scalar = string | number | boolean | null;

export interface ScalarNode extends Span {
  readonly kind: "scalar";
  readonly value: Scalar;
  readonly style: "plain" | "quoted" | "block";
}

/** YAML's `*name`: stands for the node that `&name` marks, which has its own place. */
export interface AliasNode extends Span {
  readonly kind: "alias";
  /** Absent when no such anchor stands before it, or it would hold itself. */
  readonly target: Exclude<TreeNode, AliasNode> | undefined;
}

export interface Comment extends Span {
  /** Without its mark and the spaces around. */
  readonly text: string;
}

/** A fault of the text itself. */
export interface TreeProblem {
  readonly code: Extract<DocumentCode, "syntax" | "duplicate-name" | "too-large" | "too-deep" | "too-many-aliases">;
  readonly span: Span;
  readonly message: string;
  /** Edits that cure it, with the title to offer them under. */
  readonly cure?: { readonly title: string; readonly edits: readonly { readonly span: Span; readonly text: string }[] };
}

/** What a text says, as far as it could be read. */
export interface Tree {
  readonly format: "yaml" | "json";
  /** Absent when the text holds no value. */
  readonly root: TreeNode | undefined;
  readonly comments: readonly Comment[];
  readonly problems: readonly TreeProblem[];
}

/** The node itself, or what an alias stands for. */
export function valueOf(node: TreeNode | undefined): Exclude<TreeNode, AliasNode> | undefined {
  return node?.kind === "alias" ? node.target : node;
}

/** The entry of a map by name; the first where a name is doubled. */
export function entryOf(node: TreeNode | undefined, name: string): MapEntry | undefined {
  const map = valueOf(node);
  return map?.kind === "map" ? map.entries.find((entry) => entry.name === name) : undefined;
}
