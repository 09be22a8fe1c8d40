import { displayWidth } from "./display-width.ts";
import { flowNodeAt, type FlowNode } from "./flow-node.ts";
import { STEP, type LayoutToken, type TokenKind } from "./layout-token.ts";
import { spacesBetween } from "./spacing.ts";

/** Columns that a line may have where a document on one line is opened. */
const LINE_WIDTH = 120;

const KINDS: Readonly<Record<string, TokenKind>> = {
  "{": "open",
  "[": "open",
  "}": "close",
  "]": "close",
  ",": "comma",
  ":": "colon",
};

/**
 * The tokens of a JSON text without faults. What stands on one line stays on one; of what is written over several, each item
 * gets a line. A document that is all one line and too long for one is opened, as far as it takes.
 */
export function jsonTokens(text: string): readonly LayoutToken[] {
  const tokens: LayoutToken[] = [];
  let end = 0;
  let depth = 0;
  for (const { 0: word, index } of text.matchAll(/"(?:[^"\\]|\\.)*"|[{}[\],:]|[^\s\ufeff{}[\],:"]+/g)) {
    const kind = KINDS[word] ?? "scalar";
    if (kind === "close") depth -= 1;
    const breaks = tokens.length === 0 ? 0 : (text.slice(end, index).match(/\r\n|\n|\r/g) ?? []).length;
    end = index + word.length;
    tokens.push({ kind, start: index, end, breaks, keepsBreaks: false, column: depth * STEP });
    if (kind === "open") depth += 1;
  }
  const root = tokens[0]?.kind === "open" ? flowNodeAt(text, tokens, 0) : undefined;
  if (!root) return tokens.map((token) => ({ ...token, breaks: 0 }));
  const breaks = new Map<number, number>();
  if (tokens.some((token) => token.breaks > 0)) keepLines(root, tokens, breaks);
  else openLong(root, text, tokens, breaks);
  return tokens.map((token, index) => ({ ...token, breaks: breaks.get(index) ?? 0 }));
}

function keepLines(node: FlowNode, tokens: readonly LayoutToken[], breaks: Map<number, number>): void {
  const within = tokens.slice(node.open + 1, node.close + 1);
  if (node.items.length === 0 || !within.some((token) => token.breaks > 0)) return;
  node.items.forEach((item, idx) => {
    // A blank line between items sets groups apart; one behind a bracket does not.
    breaks.set(item.first, idx === 0 ? 1 : Math.max(1, tokens[item.first].breaks));
    if (item.node) keepLines(item.node, tokens, breaks);
  });
  breaks.set(node.close, 1);
}

function openLong(root: FlowNode, text: string, tokens: readonly LayoutToken[], breaks: Map<number, number>): void {
  // Width of all tokens before each, with the blanks between them.
  const before = [0];
  tokens.forEach((token, idx) => {
    const gap = idx + 1 < tokens.length ? spacesBetween(text, token, tokens[idx + 1]) : 0;
    before.push(before[idx] + displayWidth(text.slice(token.start, token.end)) + gap);
  });
  const open = (node: FlowNode, first: number): void => {
    // The comma behind it takes a column too.
    const width = tokens[first].column + before[node.close + 1] - before[first] + 1;
    if (width <= LINE_WIDTH || node.items.length === 0) return;
    for (const item of node.items) {
      breaks.set(item.first, 1);
      if (item.node) open(item.node, item.first);
    }
    breaks.set(node.close, 1);
  };
  open(root, 0);
}
