import type { SemanticTokensEdit } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { SemanticToken } from "./service/semantic-tokens.ts";
import { TOKEN_MODIFIERS, TOKEN_TYPES } from "./service/token-legend.ts";

/** Numbers that the protocol has for one token: lines and characters from the one before, length, type, modifiers. */
const NUMBERS_EACH = 5;

/** Tokens as the protocol writes them. They are in order of place. */
export function tokenData(document: TextDocument, tokens: readonly SemanticToken[]): number[] {
  const data: number[] = [];
  let before = { line: 0, character: 0 };
  let end = 0;
  for (const { start, end: tokenEnd, type, modifiers } of tokens) {
    if (start < end) continue;
    const at = document.positionAt(start);
    const isSameLine = at.line === before.line;
    const bits = TOKEN_MODIFIERS.reduce((sum, modifier, bit) => sum + (modifiers.has(modifier) ? 1 << bit : 0), 0);
    const character = isSameLine ? at.character - before.character : at.character;
    data.push(at.line - before.line, character, tokenEnd - start, TOKEN_TYPES.indexOf(type), bits);
    before = at;
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
