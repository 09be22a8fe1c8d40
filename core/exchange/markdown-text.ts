import { plainWords } from "../base/plain-words.ts";

/** Breaks what a host would make of bare text: a mention of a person, a reference, an address. It is seen by nobody. */
const BREAK = "&#8203;";

/** Where hosts begin a link, a reference or a picture by themselves. */
const LINKING =
  /(&#64;|&#35;)(?=\w)|\b(?:GH-(?=\d)|www\.|mailto:|xmpp:|[a-z][a-z0-9+.-]*:(?=\/\/))|:(?=[a-z_+-][\w+-]*:)/gi;

/**
 * Text of others as words in Markdown (GFM), in a table too: no letter of it is markup, HTML, a mention, a reference or a link.
 * Character references are letters and never structure there (CommonMark 0.31, 2.5). It stands behind other words of its
 * line: at the beginning of one, a number or a dash would start a list.
 */
export function markdownText(text: string): string {
  return plainWords(text)
    .replace(/[&<>`*_[\]|~\\$!#@]/g, (letter) => `&#${letter.charCodeAt(0)};`)
    .replace(LINKING, `$&${BREAK}`);
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
