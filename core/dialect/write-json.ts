import { numberText, type PlainData, type PlainScalar } from "./plain-data.ts";

/** Columns that a list of plain values may take on one line. */
const WIDTH = 120;
const STEP = "  ";

/** A document as JSON: every field on a line of its own, lists of plain values on one line where they fit. */
export function writeJson(data: PlainData): string {
  return `${valueText(data, "", 0)}\n`;
}

/** @param before Columns that are taken on the first line of the value. */
function valueText(data: PlainData, indent: string, before: number): string {
  if (data.kind === "scalar") return scalarText(data);
  const inner = indent + STEP;
  if (data.kind === "map") {
    if (data.entries.length === 0) return "{}";
    const lines = data.entries.map(([name, value]) => {
      const start = `${inner}${JSON.stringify(name)}: `;
      return start + valueText(value, inner, start.length);
    });
    return `{\n${lines.join(",\n")}\n${indent}}`;
  }
  const short = shortList(data.items);
  // The comma behind it counts too.
  if (short !== undefined && before + short.length < WIDTH) return short;
  const lines = data.items.map((item) => inner + valueText(item, inner, inner.length));
  return `[\n${lines.join(",\n")}\n${indent}]`;
}

/** A list of plain values, or a single list in a list, on one line; rows of a table have a line each. */
function shortList(items: readonly PlainData[]): string | undefined {
  const parts = items.map((item) =>
    item.kind === "scalar" ? scalarText(item) : item.kind === "list" ? shortList(item.items) : undefined,
  );
  const isTable = 1 < items.length && items.every((item) => item.kind === "list" && 1 < item.items.length);
  return isTable || parts.includes(undefined) ? undefined : `[${parts.join(", ")}]`;
}

function scalarText(data: PlainScalar): string {
  const { value } = data;
  return typeof value === "number" ? numberText({ ...data, value }) : JSON.stringify(value);
}
