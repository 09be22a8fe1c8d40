import { plainWords } from "../base/plain-words.ts";

/** Breaks what a host would make of bare text: a mention of a person, a reference, an address. It is seen by nobody. */
const BREAK = "&#8203;";

/**
 * Text of others as words in Markdown (GFM), in a table too: no letter of it is markup, HTML, a mention, a reference or a link.
 * Character references are letters and never structure there (CommonMark 0.31, 2.5).
 */
export function markdownText(text: string): string {
  return plainWords(text)
    .replace(/[&<>"'`*_[\]()|~\\$!{}#@^=]/g, (letter) => `&#${letter.charCodeAt(0)};`)
    .replace(/(&#64;|&#35;)(?=\S)/g, `$1${BREAK}`)
    .replace(/\b(GH-|www\.|[a-z]+:)(?=[\w/])/gi, `$1${BREAK}`);
}

/** Text of others as code. */
export const markdownCode = (text: string): string => `<code>${markdownText(text)}</code>`;

/** A message, whose names stand between backticks. */
export function markdownMessage(message: string): string {
  return message
    .split(/(`[^`]+`)/)
    .map((part, i) => (i % 2 === 0 ? markdownText(part) : markdownCode(part.slice(1, -1))))
    .join("");
}
