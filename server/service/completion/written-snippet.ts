import { quotedName } from "./quoted-name.ts";

/** A value that a person goes on to change: what stands there at first. */
export interface Hole {
  readonly hole: string | number;
}

/** What a snippet writes, free of any layout. A number or a word that stands as it is, a hole, a list, or a map. */
export type Part = string | number | Hole | readonly Part[] | Fields;
export interface Fields {
  readonly [name: string]: Part;
}

/** A snippet as data: fields of a map, or an entry with a name of its own. */
export interface Shown {
  readonly fields: Fields;
  /** For an entry of a map with free names. */
  readonly name?: string;
}

/** How the text around is written. */
export interface Layout {
  /** `block`: fields on lines of their own, from `column` on. `flow`: all on one line. `spread`: braces, fields on lines. */
  readonly style: "block" | "flow" | "spread";
  readonly json: boolean;
  /** Column of the fields in `block`, of the braces in `spread`. */
  readonly column: number;
  readonly newline: string;
}

/** A text, and the same as LSP's snippets have it: holes in order, the cursor behind the last. */
export interface Written {
  readonly plain: string;
  readonly snippet: string;
}

/** Fields without what encloses them: for a map whose braces, or whose place in a block, are there. */
export function writeFields(fields: Fields, layout: Layout): Written {
  return both(layout.json, (pen) => fieldLines(fields, pen).join(layout.style === "flow" ? ", " : glue(layout)));
}

/** The whole map: in braces but in a block. */
export function writeMap(fields: Fields, layout: Layout): Written {
  return both(layout.json, (pen) => mapText(fields, layout, pen));
}

/** `name: { .. }`, on one line. */
export function writeEntry({ name = "", fields }: Shown, layout: Layout): Written {
  return both(layout.json, (pen) => `${pen.hole(name)}: ${mapText(fields, { ...layout, style: "flow" }, pen)}`);
}

/** A list with one such map, or a map with one such entry, as the value behind a colon. */
export function writeWhole(shown: Shown, layout: Layout): Written {
  const isEntry = shown.name !== undefined;
  if (layout.style === "block") {
    const indent = " ".repeat(layout.column);
    const inner = isEntry
      ? writeEntry(shown, layout)
      : writeFields(shown.fields, { ...layout, column: layout.column + 2 });
    const head = layout.newline + indent + (isEntry ? "" : "- ");
    return { plain: head + inner.plain, snippet: head + inner.snippet };
  }
  const inner = isEntry ? writeEntry(shown, layout) : writeMap(shown.fields, { ...layout, style: "flow" });
  const [open, close] = isEntry ? ["{ ", " }"] : ["[", "]"];
  return { plain: open + inner.plain + close, snippet: open + inner.snippet.replace(/\$0$/, "") + close + "$0" };
}

/** Writes scalars: those that stand as they are, and holes. */
interface Pen {
  word(value: string | number): string;
  hole(value: string | number): string;
}

/** The same text twice: plain, and with each hole as `${1:value}`. */
function both(json: boolean, write: (pen: Pen) => string): Written {
  const escaped = (text: string): string => text.replace(/[\\$}]/g, "\\$&");
  const plain: Pen = {
    word: (value) => scalarText(value, json),
    hole: (value) => scalarText(value, json),
  };
  let count = 0;
  const marked: Pen = {
    word: (value) => escaped(scalarText(value, json)),
    hole(value) {
      const text = scalarText(value, json);
      const quote = text.startsWith('"') ? '"' : "";
      const inner = quote === "" ? text : text.slice(1, -1);
      count += 1;
      return `${quote}\${${count}:${escaped(inner)}}${quote}`;
    },
  };
  return { plain: write(plain), snippet: `${write(marked)}$0` };
}

function mapText(fields: Fields, layout: Layout, pen: Pen): string {
  const lines = fieldLines(fields, pen);
  if (layout.style !== "spread") return `{ ${lines.join(", ")} }`;
  const indent = layout.newline + " ".repeat(layout.column);
  return `{${indent}  ${lines.join(`,${indent}  `)}${indent}}`;
}

/** What stands between two fields that have lines of their own. */
function glue({ style, column, newline }: Layout): string {
  return `${style === "spread" ? "," : ""}${newline}${" ".repeat(column)}`;
}

function fieldLines(fields: Fields, pen: Pen): string[] {
  return Object.entries(fields).map(([name, part]) => `${pen.word(name)}: ${partText(part, pen)}`);
}

function partText(part: Part, pen: Pen): string {
  if (typeof part === "string" || typeof part === "number") return pen.word(part);
  if (isList(part)) return `[${part.map((each) => partText(each, pen)).join(", ")}]`;
  return isHole(part) ? pen.hole(part.hole) : `{ ${fieldLines(part, pen).join(", ")} }`;
}

const isList = (part: Part): part is readonly Part[] => Array.isArray(part);
const isHole = (part: Hole | Fields): part is Hole => Object.keys(part).length === 1 && "hole" in part;

function scalarText(value: string | number, json: boolean): string {
  return typeof value === "number" ? String(value) : quotedName(value, json);
}
