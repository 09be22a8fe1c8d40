import type { Span } from "../../base/span.ts";
import { exactTime } from "./exact-time.ts";
import { quotedAs, type MoveText } from "./time-edits.ts";
import { isWithin, type TimeField } from "./time-fields.ts";

/** A text whose times are being written. */
export interface TimeWriting {
  readonly document: MoveText;
  /** Of the text that stands for more than one place. */
  readonly shared: readonly Span[];
  readonly edits: { readonly span: Span; readonly text: string }[];
}

/**
 * Writes one time [s] anew in its notation, or in seconds where that cannot say it; false where other places of the text
 * would change too.
 *
 * @param offset The frame that a label counts from.
 */
export function putTime(writing: TimeWriting, field: TimeField, time: number, offset: number): boolean {
  const written = exactTime(time, field.style, writing.document.move.rate, offset);
  return putWrittenTime(writing, field, written);
}

/** The same for a time that is spelled already, without quotes. */
export function putWrittenTime(
  { document, shared, edits }: TimeWriting,
  { node }: TimeField,
  written: string,
): boolean {
  const { start, end } = node;
  const before = document.text.slice(start, end);
  if (isWithin(node, shared) || node.style === "block" || before.includes("\n")) return false;
  const isText = document.tree.format === "json" && node.style !== "quoted" && !/^-?[\d.]+$/.test(written);
  edits.push({ span: { start, end }, text: isText ? JSON.stringify(written) : quotedAs(before, written) });
  return true;
}

/** Why a time cannot be written, as a clause. */
export const sharedTime = (what: string) => ({
  refusal: `the time of ${what} is repeated elsewhere (\`&name\`, \`*name\`), or not on one line: write it out first`,
});
