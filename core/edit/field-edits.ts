import type { Span } from "../base/span.ts";
import { spelledFor } from "../checks/add-field.ts";
import type { MapEntry, MapNode, Tree } from "../syntax/tree.ts";
import type { TextEdits } from "./apply-edits.ts";

/** What becomes of one field of a map. */
export type FieldChange =
  | { readonly kind: "remove"; readonly name: string }
  /** The field's value is written anew, or the field is added; `value` as YAML spells it. */
  | { readonly kind: "set"; readonly name: string; readonly value: string }
  /** Another field stands in its place. */
  | { readonly kind: "replace"; readonly name: string; readonly by: string; readonly value: string };

/** A text and its tree. */
export interface Written {
  readonly text: string;
  readonly tree: Tree;
}

/** Edits of a text, or why there are none, as a sentence without its full stop. */
export type Rewriting = { readonly edits: TextEdits } | { readonly refusal: string };

/** The smallest edits that change fields of one map in the layout that it stands in. Added fields come after the others. */
export function fieldEdits(written: Written, map: MapNode, changes: readonly FieldChange[]): TextEdits {
  const { tree } = written;
  const has = (name: string): boolean => map.entries.some((entry) => entry.name === name);
  const removed = new Set(changes.flatMap(({ kind, name }) => (kind === "remove" ? [name] : [])));
  const added = changes.flatMap((change) => (change.kind === "set" && !has(change.name) ? [change] : []));
  const edits = changes.flatMap((change) => {
    const entry = map.entries.find(({ name }) => name === change.name);
    if (!entry || change.kind === "remove") return [];
    if (change.kind === "replace") {
      return [{ span: spanOf(entry), text: fieldText(tree, change.by, change.value) }];
    }
    const value = spelled(tree, change.value);
    if (entry.value) return [{ span: spanOf(entry.value), text: value }];
    return [{ span: spanOf(entry), text: fieldText(tree, change.name, change.value) }];
  });
  const fields = added.map(({ name, value }) => fieldText(tree, name, value));
  return [...edits, ...removals(written, map, removed), ...insertions(written, map, removed, fields)];
}

/** `name: value` as the document's format spells it. */
export function fieldText(tree: Tree, name: string, value: string): string {
  return `${nameText(tree, name)}: ${spelled(tree, value)}`;
}

/** A name as the document's format spells it. */
export function nameText({ format }: Tree, name: string): string {
  return format === "json" || !/^[\p{L}\p{N}_][^:#]*$/u.test(name) ? JSON.stringify(name) : name;
}

/** A value in the document's format. Maps and lists are made of parts that are spelled already. */
function spelled({ format }: Tree, value: string): string {
  return value.startsWith("{") || value.startsWith("[") ? value : spelledFor(format === "json", value);
}

/** A map of fields on one line. */
export function flowMap(tree: Tree, fields: readonly (readonly [string, string])[]): string {
  return `{ ${fields.map(([name, value]) => fieldText(tree, name, value)).join(", ")} }`;
}

/** A list of values on one line. */
export function flowList(tree: Tree, values: readonly string[]): string {
  return `[${values.map((value) => spelled(tree, value)).join(", ")}]`;
}

export const lineEndOf = (text: string): string => (text.includes("\r\n") ? "\r\n" : "\n");

/** The edits, unless one would take a comment away. */
export function checked({ tree }: Pick<Written, "tree">, edits: TextEdits): Rewriting {
  const loses = tree.comments.some((comment) =>
    edits.some(({ span }) => span.start < comment.end && comment.start < span.end),
  );
  return loses ? { refusal: "a comment stands in what would be replaced" } : { edits };
}

/** Column of an offset in its line. */
export const columnOf = (text: string, offset: number): number => offset - (text.lastIndexOf("\n", offset - 1) + 1);

/** Where the line that holds `offset` ends, before its line end. */
export function lineEndAt(text: string, offset: number): number {
  const rest = text.slice(offset).search(/\r?\n/);
  return rest < 0 ? text.length : offset + rest;
}

const spanOf = ({ start, end }: Span): Span => ({ start, end });

/** True where only white space stands before `offset` in its line. */
function beginsLine(text: string, offset: number): boolean {
  return text.slice(offset - columnOf(text, offset), offset).trim() === "";
}

function removals(written: Written, map: MapNode, removed: ReadonlySet<string>): TextEdits {
  const { tree } = written;
  const { entries } = map;
  const goes = (entry: MapEntry): boolean => removed.has(entry.name);
  if (!entries.some(goes)) return [];
  if (entries.every(goes)) return [{ span: spanOf(map), text: "{}" }];
  const lastKept = entries.reduce((last, entry, i) => (goes(entry) ? last : i), -1);
  const flow = map.flow || tree.format === "json";
  const inside = entries.flatMap((entry, i) => {
    if (!goes(entry) || lastKept < i) return [];
    if (flow || !beginsLine(written.text, entry.start)) {
      return [{ span: { start: entry.start, end: entries[i + 1].start }, text: "" }];
    }
    return [{ span: wholeLines(written, entry), text: "" }];
  });
  const tail = entries.slice(lastKept + 1);
  if (tail.length === 0) return inside;
  if (flow) return [...inside, { span: { start: entries[lastKept].end, end: tail[tail.length - 1].end }, text: "" }];
  return [...inside, ...tail.map((entry) => ({ span: wholeLines(written, entry), text: "" }))];
}

/**
 * The lines that hold an entry of a block map, the end of the last one included; without the last, the line end before. A
 * comment behind the entry stays, on a line of its own.
 */
function wholeLines({ text, tree }: Written, { start, end }: MapEntry): Span {
  const first = start - columnOf(text, start);
  const comment = tree.comments.find((one) => end <= one.start && one.start < lineEndAt(text, end));
  if (comment && text[end - 1] !== "\n") return { start, end: comment.start };
  if (text[end - 1] === "\n") return { start: first, end };
  const last = lineEndAt(text, end);
  if (last < text.length) return { start: first, end: last + (text[last] === "\r" ? 2 : 1) };
  return { start: 0 < first && text[first - 2] === "\r" ? first - 2 : Math.max(0, first - 1), end: last };
}

function insertions(
  { text, tree }: Written,
  map: MapNode,
  removed: ReadonlySet<string>,
  fields: readonly string[],
): TextEdits {
  if (fields.length === 0) return [];
  const kept = map.entries.filter(({ name }) => !removed.has(name));
  const last = kept[kept.length - 1];
  if (!last) return [{ span: spanOf(map), text: `{ ${fields.join(", ")} }` }];
  const lineEnd = lineEndOf(text);
  const line = lineEnd + " ".repeat(columnOf(text, last.start));
  if (map.flow || tree.format === "json") {
    const between = 1 < kept.length && beginsLine(text, last.start) ? `,${line}` : ", ";
    return [{ span: { start: last.end, end: last.end }, text: fields.map((field) => between + field).join("") }];
  }
  // A block of text ends with its line.
  if (text[last.end - 1] === "\n") {
    const indent = line.slice(lineEnd.length);
    const lines = fields.map((field) => indent + field + lineEnd).join("");
    return [{ span: { start: last.end, end: last.end }, text: lines }];
  }
  const indent = lineEnd + " ".repeat(columnOf(text, map.entries[0].start));
  const end = lineEndAt(text, last.end);
  return [{ span: { start: end, end }, text: fields.map((field) => indent + field).join("") }];
}
