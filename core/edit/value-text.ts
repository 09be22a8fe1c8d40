import type { TreeNode } from "../syntax/tree.ts";
import { flowList, flowMap, type Written } from "./field-edits.ts";

/**
 * What a value says on one line, as an edit of a field takes it: strings are quoted where they have to be. `undefined` for
 * an alias and for an empty value.
 */
export function valueText(written: Written, node: TreeNode | undefined): string | undefined {
  const { text, tree } = written;
  if (!node || node.kind === "alias") return undefined;
  if (node.kind === "scalar") {
    if (tree.format === "json") return String(node.value);
    const source = text.slice(node.start, node.end);
    const isPlain = node.style === "plain" && !/[\n,[\]{}#]/.test(source);
    const isQuoted = node.style === "quoted" && !source.includes("\n");
    return isPlain || isQuoted ? source : JSON.stringify(node.value);
  }
  if (node.kind === "list") {
    const items = node.items.map((item) => valueText(written, item));
    return items.every((item) => item !== undefined) ? flowList(tree, items) : undefined;
  }
  const fields = node.entries.map(({ name, value }) => [name, valueText(written, value)] as const);
  return fields.every((field): field is [string, string] => field[1] !== undefined) ? flowMap(tree, fields) : undefined;
}
