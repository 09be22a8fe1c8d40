// Ways to write a document anew that change nothing of what it says, or only what things are called.
import { parse as parseYaml } from "yaml";
import type { Random } from "../../core/base/random.ts";
import { analyseText, createMemo } from "../../core/checks/analyse.ts";
import { applyEdits, type TextEdits } from "../../core/edit/apply-edits.ts";
import { convertDialect } from "../../core/dialect/convert-dialect.ts";
import { DEFAULT_LAYOUT, edited, layOut } from "../../core/layout/lay-out.ts";
import { documentKind } from "../../core/model/document-kind.ts";
import { parseTree } from "../../core/syntax/parse.ts";
import { valueOf, type ScalarNode, type TreeNode } from "../../core/syntax/tree.ts";
import { unitRewrites } from "../../server/service/rewrites/unit-rewrites.ts";
import { solvedOf, type View } from "../../server/service/view.ts";
import { sourcesOf, type Files } from "./change.ts";

export const treeOfText = (file: string, text: string) => parseTree(text, file.endsWith("json") ? "json" : "yaml");

/** All single values under a node. */
export function scalars(node: TreeNode | undefined): ScalarNode[] {
  const value = node?.kind === "alias" ? undefined : valueOf(node);
  if (value?.kind === "map") return value.entries.flatMap((entry) => scalars(entry.value));
  if (value?.kind === "list") return value.items.flatMap(scalars);
  return value ? [value] : [];
}

/** Writes some of the quantities of a document in other units, each to 5e-10 of what it was. */
export function inOtherUnits(files: Files, file: string, share: number, random: Random): Files {
  const text = files.get(file) as string;
  const tree = treeOfText(file, text);
  const analysis = analyseText(file, sourcesOf(files), createMemo());
  const kind = documentKind(file)?.kind;
  const view = { file, kind, text, tree, analysis, solved: solvedOf(analysis) } as unknown as View;
  const edits: { span: { start: number; end: number }; text: string }[] = [];
  for (const node of scalars(tree.root)) {
    if (edits.some(({ span }) => span.start <= node.start && node.start < span.end) || random() > share) continue;
    const offers = unitRewrites(view, node.start);
    if (offers.length === 0) continue;
    const { ways } = offers[Math.floor(random() * offers.length)];
    for (const edit of ways[0]) if (!edits.some(({ span }) => span.start === edit.span.start)) edits.push(edit);
  }
  const sorted: TextEdits = edits.sort((a, b) => a.span.start - b.span.start);
  return new Map([...files, [file, applyEdits(text, sorted)]]);
}

/** The fields of all maps in another order; lists stay as they are. */
export function shuffled(data: unknown, random: Random): unknown {
  if (Array.isArray(data)) return data.map((item) => shuffled(item, random));
  if (typeof data !== "object" || data === null) return data;
  const entries = Object.entries(data).map(([name, value]): [number, string, unknown] => [random(), name, value]);
  return Object.fromEntries(
    entries.sort(([a], [b]) => a - b).map(([, name, value]) => [name, shuffled(value, random)]),
  );
}

/** Every name that stands as a value, a field, or before the dot of what is measured becomes another. */
export function renamedIn(data: unknown, from: string, to: string): unknown {
  if (Array.isArray(data)) return data.map((item) => renamedIn(item, from, to));
  if (typeof data === "string")
    return data === from ? to : data.startsWith(`${from}.`) ? to + data.slice(from.length) : data;
  if (typeof data !== "object" || data === null) return data;
  // Fields of a head are words of the language, though axes may be called so.
  const isHead = "pan" in data && "tilt" in data && typeof data.pan === "string";
  const name = (field: string): string => (field === from && !isHead ? to : field);
  return Object.fromEntries(Object.entries(data).map(([field, value]) => [name(field), renamedIn(value, from, to)]));
}

/** A document's data as text, with blanks, notes and comments at random, as JSON or as YAML. */
export function writtenAnew(data: unknown, format: "yaml" | "json", random: Random): string {
  const json = JSON.stringify(data, undefined, random() < 0.5 ? 2 : undefined);
  if (format === "json") return json;
  const made = convertDialect(json, parseTree(json, "json"));
  if ("refusal" in made) throw new Error(made.refusal);
  const commented = made.text.replace(/\n/g, () =>
    random() < 0.2 ? " # said again\n" : random() < 0.1 ? "\n\n" : "\n",
  );
  return random() < 0.5 ? commented : laidOut(commented);
}

export function laidOut(text: string): string {
  const parse = (version: string) => parseTree(version, "yaml");
  const layout = layOut({ text, format: "yaml", tree: parse(text), parse }, DEFAULT_LAYOUT);
  return "edits" in layout ? edited(text, layout.edits) : text;
}

export const dataOf = (text: string): unknown => parseYaml(text);
