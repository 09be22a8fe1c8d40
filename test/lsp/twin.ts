import assert from "node:assert/strict";
import { parse } from "yaml";

/** A word that stands for the cursor while a text is written in the other format. */
const MARK = "zzcursorzz";

/** A text without its `|`, and where that stood. */
export interface Marked {
  readonly text: string;
  readonly offset: number;
}

/** A text in which one `|` marks the cursor. */
export function marked(text: string, mark = "|"): Marked {
  const offset = text.indexOf(mark);
  assert.ok(offset >= 0, `a cursor in ${text}`);
  return { text: text.slice(0, offset) + text.slice(offset + mark.length), offset };
}

/** The same document as JSON, the cursor within the same name or value; files that it names are JSON too. */
export function twin({ text, offset }: Marked): Marked {
  const value: unknown = parse(text.slice(0, offset) + MARK + text.slice(offset));
  const json = asJson(value);
  const found = marked(json, MARK);
  // A number with the mark in it is read as text: it is a number again.
  const [before, after] = [found.text.slice(0, found.offset), found.text.slice(found.offset)];
  const open = /(?:^|[^\\])"(-?[\d.]*)$/.exec(before);
  const close = /^([\d.]*)"(?=[\s,\]}])/.exec(after);
  if (!open || !close || open[1] + close[1] === "") return found;
  const start = before.length - open[1].length - 1;
  return {
    text: `${before.slice(0, start)}${open[1]}${close[1]}${after.slice(close[0].length)}`,
    offset: start + open[1].length,
  };
}

/** A document as JSON that names files in JSON. */
export function asJson(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`.replace(/\.yaml\b/g, ".json");
}
