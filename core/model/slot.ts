import type { Span } from "../base/span.ts";
import type { AliasNode, TreeNode } from "../syntax/tree.ts";
import type { Reporter } from "./report.ts";

/** What is known of the place of a value: the name it stands under, for messages and for where nothing stands. */
export interface Slot {
  /** `flange`, or `keys[2]`. */
  readonly label: string;
  /** Where to point when the value itself is missing. */
  readonly span: Span;
}

/** A value as messages name it: a text without its quotes, a number as it is written. */
export function sayValue(to: Reporter, value: Exclude<TreeNode, AliasNode>): string {
  if (value.kind !== "scalar") return `a ${value.kind}`;
  const text = typeof value.value === "string" ? value.value : to.text.slice(value.start, value.end);
  return `\`${text.length > 60 ? `${text.slice(0, 57)}...` : text}\``;
}
