import { plainWords } from "../base/plain-words.ts";

/** Characters of a message at most; a host cuts what is longer, in the middle of a word. */
const MOST = 4_000;

/**
 * Words for a message of SARIF. A viewer makes a link of `[words](address)` in plain text too (SARIF 2.1.0, 3.11.6): text of
 * documents must not become one. It is never empty, which the format doesn't allow.
 */
export function messageText(text: string): string {
  const plain = plainWords(text).replaceAll("](", "\\](");
  const cut = plain.length > MOST ? `${plain.slice(0, MOST - 1).replace(/\p{Cs}$/u, "")}…` : plain;
  return cut === "" ? "(no words)" : cut;
}
