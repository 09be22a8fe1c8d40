import type { LayoutToken } from "./layout-token.ts";

/** A map or list in brackets, by the numbers of its tokens. */
export interface FlowNode {
  readonly kind: "map" | "list";
  readonly open: number;
  readonly close: number;
  readonly items: readonly FlowItem[];
}

export interface FlowItem {
  readonly first: number;
  readonly last: number;
  /** As written, where the item has a name. */
  readonly name: string | undefined;
  /** The first token of its value; absent where nothing is written after the name. */
  readonly value: number | undefined;
  /** The value, where it is in brackets. */
  readonly node: FlowNode | undefined;
}

/** What opens at the token `open`; `undefined` when its bracket is not closed. */
export function flowNodeAt(text: string, tokens: readonly LayoutToken[], open: number): FlowNode | undefined {
  const items: FlowItem[] = [];
  let at = open + 1;
  while (at < tokens.length && tokens[at].kind !== "close") {
    const item = itemAt(text, tokens, at);
    if (!item) return undefined;
    if (item.last >= item.first) items.push(item);
    at = item.last + 1;
    if (tokens[at]?.kind === "comma") at += 1;
  }
  if (at >= tokens.length) return undefined;
  return { kind: text[tokens[open].start] === "{" ? "map" : "list", open, close: at, items };
}

function itemAt(text: string, tokens: readonly LayoutToken[], first: number): FlowItem | undefined {
  let colon: number | undefined;
  let node: FlowNode | undefined;
  let at = first;
  for (; at < tokens.length; at += 1) {
    const { kind } = tokens[at];
    if (kind === "comma" || kind === "close") break;
    if (kind === "colon") colon ??= at;
    if (kind !== "open") continue;
    const inner = flowNodeAt(text, tokens, at);
    if (!inner) return undefined;
    node = inner;
    at = inner.close;
  }
  const last = at - 1;
  const name =
    colon === undefined || colon === first ? undefined : text.slice(tokens[first].start, tokens[colon - 1].end);
  const begins = colon === undefined ? first : colon + 1;
  const value = begins <= last ? begins : undefined;
  return { first, last, name, value, node: node && node.open === value && node.close === last ? node : undefined };
}
