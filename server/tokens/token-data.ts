import type { SemanticTokensEdit } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { SemanticToken } from "../service/tokens/semantic-tokens.ts";
import { TOKEN_MODIFIERS, TOKEN_TYPES, type TokenType } from "../service/tokens/token-legend.ts";

/** Numbers that the protocol has for one token: lines and characters from the one before, length, type, modifiers. */
const NUMBERS_EACH = 5;

const TYPE_NUMBERS: ReadonlyMap<TokenType, number> = new Map(TOKEN_TYPES.map((type, idx) => [type, idx]));

/** Tokens as the protocol writes them. They are in order of place. */
export function tokenData(document: TextDocument, tokens: readonly SemanticToken[]): number[] {
  const data: number[] = [];
  if (tokens.length === 0) return data;
  const startOf = (line: number): number =>
    line < document.lineCount ? document.offsetAt({ line, character: 0 }) : Infinity;
  // Lines are counted on from token to token: looking for each anew takes longer than finding the tokens.
  let { line } = document.positionAt(tokens[0].start);
  let next = startOf(line + 1);
  let before = { line: 0, start: 0 };
  let lineStart = startOf(line);
  let end = 0;
  for (const { start, end: tokenEnd, type, modifiers } of tokens) {
    if (start < end) continue;
    while (next <= start) {
      lineStart = next;
      line += 1;
      next = startOf(line + 1);
    }
    const bits = TOKEN_MODIFIERS.reduce((sum, modifier, bit) => sum + (modifiers.has(modifier) ? 1 << bit : 0), 0);
    const character = line === before.line ? start - before.start : start - lineStart;
    data.push(line - before.line, character, tokenEnd - start, TYPE_NUMBERS.get(type) ?? 0, bits);
    before = { line, start };
    end = tokenEnd;
  }
  return data;
}

/** The one edit that makes `older` into `newer`; none where they are the same. It keeps tokens whole. */
export function tokenEdits(older: readonly number[], newer: readonly number[]): SemanticTokensEdit[] {
  const least = Math.min(older.length, newer.length);
  let start = 0;
  while (start < least && older[start] === newer[start]) start += 1;
  if (start === older.length && start === newer.length) return [];
  start -= start % NUMBERS_EACH;
  let same = 0;
  while (same < least - start && older[older.length - 1 - same] === newer[newer.length - 1 - same]) same += 1;
  same -= same % NUMBERS_EACH;
  return [{ start, deleteCount: older.length - start - same, data: newer.slice(start, newer.length - same) }];
}
