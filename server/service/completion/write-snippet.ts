import { nodeAt, type Path } from "../../../core/syntax/locate.ts";
import { valueOf, type TreeNode } from "../../../core/syntax/tree.ts";
import type { View } from "../view.ts";
import type { AskedPlace } from "./proposal.ts";
import { commaBefore, type Replacement } from "./write-proposal.ts";
import {
  writeEntry,
  writeFields,
  writeMap,
  writeWhole,
  type Layout,
  type Shown,
  type Written,
} from "./written-snippet.ts";

/** A whole item or entry at the cursor, laid out as its neighbours are. */
export function asSnippet(asked: AskedPlace, shown: Shown): Replacement {
  const { cursor, view } = asked;
  const { plain, snippet } = written(asked, shown);
  const before = cursor.needsSpace && !/^[\r\n]/.test(plain) ? " " : "";
  const after = cursor.needsComma ? "," : "";
  return {
    text: before + plain + after,
    snippet: before + snippet.replace(/\$0$/, `${after}$$0`),
    span: cursor.word,
    ...commaBefore({ view, cursor }),
  };
}

function written(asked: AskedPlace, shown: Shown): Written {
  const { cursor, place, view } = asked;
  const { role, flow } = cursor;
  const layout = layoutOf(asked);
  if (place.shape.kind === "record") return role === "value" ? writeWhole(shown, layout) : writeEntry(shown, layout);
  if (place.shape.kind === "list") return role === "value" ? writeWhole(shown, layout) : dashed(shown, layout);
  const neighbour = neighbourOf(view, cursor.path);
  if (flow) {
    if (role === "name" && isInBraces(view, cursor.word.start)) return writeFields(shown.fields, layout);
    const style = neighbour && isSpread(view, neighbour) ? "spread" : "flow";
    return writeMap(shown.fields, { ...layout, style, column: indentAt(view.text, cursor.word.start) });
  }
  if (neighbour?.kind === "map" && neighbour.flow) {
    const map = writeMap(shown.fields, { ...layout, style: "flow" });
    return cursor.needsDash ? prefixed("- ", map) : map;
  }
  return cursor.needsDash ? dashed(shown, layout) : writeFields(shown.fields, layout);
}

function dashed({ fields }: Shown, layout: Layout): Written {
  return prefixed("- ", writeFields(fields, { ...layout, column: layout.column + 2 }));
}

function prefixed(text: string, { plain, snippet }: Written): Written {
  return { plain: text + plain, snippet: text + snippet };
}

function layoutOf({ cursor, view }: AskedPlace): Layout {
  const { text } = view;
  const { start } = cursor.word;
  const indent = indentAt(text, start);
  const column = start - lineStart(text, start);
  const isAlone = column === indent;
  return {
    // Braces that are open over several lines have a field on each.
    style: cursor.flow ? (isAlone && isInBraces(view, start) ? "spread" : "flow") : "block",
    json: view.tree.format === "json",
    column: cursor.role === "value" ? indent + 2 : column,
    newline: text.includes("\r\n") ? "\r\n" : "\n",
  };
}

function lineStart(text: string, offset: number): number {
  return Math.max(text.lastIndexOf("\n", offset - 1), text.lastIndexOf("\r", offset - 1)) + 1;
}

/** How far the line of an offset is indented. */
function indentAt(text: string, offset: number): number {
  const start = lineStart(text, offset);
  let end = start;
  while (end < offset && text[end] === " ") end += 1;
  return end - start;
}

function isInBraces({ text }: View, offset: number): boolean {
  let at = offset - 1;
  while (at >= 0 && /\s/.test(text[at])) at -= 1;
  return text[at] === "{";
}

/** Another item of the list that the cursor's item is in. */
function neighbourOf({ tree }: View, path: Path): TreeNode | undefined {
  const list = valueOf(nodeAt(tree, path.slice(0, -1)));
  const index = path[path.length - 1];
  return list?.kind === "list" ? list.items.find((item, idx) => item?.kind === "map" && idx !== index) : undefined;
}

function isSpread({ text }: View, { start, end }: TreeNode): boolean {
  return /[\r\n]/.test(text.slice(start, end));
}
