import { numberText, type PlainData, type PlainMap, type PlainScalar } from "./plain-data.ts";
import { isPlainName, isPlainText, quoted } from "./yaml-text.ts";

/** Columns that a value on one line may reach. */
const WIDTH = 120;
const STEP = "  ";

/** A document as YAML: a line for each field, and short maps and lists of plain values on one line, in brackets. */
export function writeYaml(data: PlainData): string {
  if (data.kind === "map" && 0 < data.entries.length) return `${mapLines(data, "").join("\n")}\n`;
  return `${blockLines(data, "").join("\n")}\n`;
}

/** The lines of a map, each indented. */
function mapLines({ entries }: PlainMap, indent: string): string[] {
  return entries.flatMap(([name, value]) => {
    const start = `${indent}${nameText(name)}:`;
    const short = shortText(value, start.length + 1);
    if (short !== undefined) return [`${start} ${short}`];
    if (value.kind === "scalar") return textLines(start, value, indent);
    return [start, ...blockLines(value, indent + STEP)];
  });
}

function blockLines(data: PlainData, indent: string): string[] {
  if (data.kind === "scalar") return [indent + scalarText(data, "block")];
  if (data.kind === "map") return data.entries.length === 0 ? [`${indent}{}`] : mapLines(data, indent);
  if (data.items.length === 0) return [`${indent}[]`];
  return data.items.flatMap((item) => {
    const start = `${indent}-`;
    const short = shortText(item, start.length + 1, "item");
    if (short !== undefined) return [`${start} ${short}`];
    if (item.kind === "scalar") return textLines(start, item, indent);
    // The first line of an item stands beside its dash.
    const [first, ...rest] = blockLines(item, indent + STEP);
    return [`${start} ${first.slice(indent.length + STEP.length)}`, ...rest];
  });
}

/** Most fields of a map that is written on one line. */
const MOST_FIELDS = 8;

/**
 * A value on one line, `undefined` where it has lines of its own: maps of maps, what is too long, and what is a text of several
 * lines.
 */
function shortText(data: PlainData, before: number, as: "field" | "item" = "field"): string | undefined {
  if (data.kind === "scalar") return isTextOfLines(data) ? undefined : scalarText(data, "block");
  if (!isShort(data, as)) return undefined;
  const text = flowText(data);
  return text.includes("\n") || WIDTH < before + text.length ? undefined : text;
}

/** A map as an item of a list may hold one map of plain values, such as the size of a body; as a field's value two, but not maps alone. */
function isShort(data: PlainData, as: "field" | "item"): boolean {
  if (data.kind === "list") return data.items.every((item) => item.kind !== "map");
  if (data.kind === "scalar") return true;
  const depths = data.entries.map(([, value]) => depthOf(value));
  const maps = depths.filter((depth) => 0 < depth);
  if (MOST_FIELDS < depths.length || maps.some((depth) => 2 < depth)) return false;
  if (as === "item") return maps.length <= 1 && maps.every((depth) => depth === 1);
  return maps.length <= 2 && (maps.length < 2 || maps.length < depths.length);
}

/** Maps within each other. */
function depthOf(data: PlainData): number {
  if (data.kind === "scalar") return 0;
  if (data.kind === "list") return Math.max(0, ...data.items.map(depthOf));
  return 1 + Math.max(0, ...data.entries.map(([, value]) => depthOf(value)));
}

function flowText(data: PlainData): string {
  if (data.kind === "scalar") return scalarText(data, "flow");
  if (data.kind === "list") return `[${data.items.map(flowText).join(", ")}]`;
  const fields = data.entries.map(([name, value]) => `${nameText(name)}: ${flowText(value)}`);
  return fields.length === 0 ? "{}" : `{ ${fields.join(", ")} }`;
}

const nameText = (name: string): string => (isPlainName(name) ? name : quoted(name));

function scalarText(data: PlainScalar, where: "block" | "flow"): string {
  const { value } = data;
  if (typeof value === "number") return Number.isFinite(value) ? numberText({ ...data, value }) : infiniteText(value);
  if (typeof value === "string") return isPlainText(value, where) ? value : quoted(value);
  return String(value);
}

const infiniteText = (value: number): string => (Number.isNaN(value) ? ".nan" : value < 0 ? "-.inf" : ".inf");

/** Lines of plain words with one line end behind the last, or none, which YAML can show as they are. */
function isTextOfLines({ value }: PlainScalar): boolean {
  return typeof value === "string" && /^\S[^\r\n]*(?:\n+[^\s][^\r\n]*)+\n?$/.test(value) && !/[^\n\P{C}]/u.test(value);
}

function textLines(start: string, { value }: PlainScalar, indent: string): string[] {
  const text = String(value);
  const lines = text.endsWith("\n") ? text.slice(0, -1) : text;
  const mark = text.endsWith("\n") ? "|" : "|-";
  return [`${start} ${mark}`, ...lines.split("\n").map((line) => (line === "" ? "" : indent + STEP + line))];
}
