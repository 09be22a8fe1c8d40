import type { Span } from "../../../core/base/span.ts";
import type { Asked, Proposal } from "./proposal.ts";
import { jsonStub } from "./json-stub.ts";
import { quotedName } from "./quoted-name.ts";

/** What replaces `span`, with the same as a snippet, and what is put elsewhere along with it. */
export interface Replacement {
  readonly text: string;
  readonly snippet?: string;
  readonly span: Span;
  /** A comma that the text before lacks. */
  readonly also?: { readonly span: Span; readonly text: string };
}

/** A proposal in the place of a name, with its colon, and in JSON with the least that may stand behind it. */
export function asName({ view, cursor }: Asked, item: Proposal): Replacement {
  const isJson = view.tree.format === "json";
  const closing = closingQuote(view.text, cursor);
  const quoted = isJson ? JSON.stringify(item.label).slice(1, -1) : item.label;
  if (cursor.hasColon) {
    const text = cursor.inQuotes ? quoted + closing : quotedName(item.label, isJson);
    return { text, span: cursor.word };
  }
  const dash = cursor.needsDash || item.dash ? "- " : "";
  const name = cursor.inQuotes ? `${quoted}${cursor.opening}: ` : `${dash}${quotedName(item.label, isJson)}: `;
  const stub = isJson && item.shape ? jsonStub(item.shape) : undefined;
  const comma = cursor.needsComma ? "," : "";
  // The quote behind the word is replaced along, so that the colon can follow it.
  const end = cursor.word.end + (cursor.inQuotes && closing === "" ? 1 : 0);
  return {
    text: name + (stub?.plain ?? "") + comma,
    ...(stub ? { snippet: name.replace(/[\\$}]/g, "\\$&") + stub.snippet + comma } : {}),
    span: { start: cursor.word.start, end },
    ...commaBefore({ view, cursor }),
  };
}

/** A proposal in the place of a value. */
export function asValue({ view, cursor }: Asked, item: Proposal): Replacement {
  const isJson = view.tree.format === "json";
  const before = cursor.needsSpace ? " " : "";
  const after = cursor.needsComma && !cursor.inQuotes ? "," : "";
  const text = cursor.inQuotes
    ? (isJson ? JSON.stringify(item.label).slice(1, -1) : item.label) + closingQuote(view.text, cursor)
    : item.bare
      ? item.label
      : quotedName(item.label, isJson);
  return { text: before + text + after, span: cursor.word, ...commaBefore({ view, cursor }) };
}

/** The quote that is missing behind the word, or nothing. */
function closingQuote(text: string, { word, inQuotes, opening }: Asked["cursor"]): string {
  return !inQuotes || text[word.end] === opening ? "" : opening;
}

/** In brackets, the comma that what stands before the word still needs. */
export function commaBefore({ view, cursor }: Pick<Asked, "view" | "cursor">): Pick<Replacement, "also"> {
  if (!cursor.flow || cursor.hasColon) return {};
  let at = cursor.word.start - (cursor.inQuotes ? 2 : 1);
  while (at >= 0 && /\s/.test(view.text[at])) at -= 1;
  if (at < 0 || /[[{,:]/.test(view.text[at])) return {};
  const isComment = view.tree.comments.some(({ start, end }) => start <= at && at < end);
  return isComment ? {} : { also: { span: { start: at + 1, end: at + 1 }, text: "," } };
}
