import type { FieldShape, Shape } from "../../schema/shape.ts";
import { saidScalar, type Reading, type Said } from "./said.ts";

/** A channel that a key gives is not one that it leaves alone, though the first key's default be the same. */
const OF_CHANNELS: ReadonlySet<string> = new Set(["roll"]);

/**
 * What a field says where it is left out, if that is a value that could be written there.
 *
 * @param path Names that lead to it, its own last.
 */
export function fallbackOf(reading: Reading, field: FieldShape, path: readonly string[]): Said | undefined {
  const { fallback, shape } = field;
  if (fallback === undefined || (path.length === 1 && OF_CHANNELS.has(path[0]))) return undefined;
  return saidOf(reading, shape, fallback, path);
}

const NUMBERS = /^\[(.*)\]$/;

function saidOf(reading: Reading, shape: Shape, text: string, path: readonly string[]): Said | undefined {
  if (shape.kind === "either") {
    const read = shape.options.flatMap((option) => saidOf(reading, option, text, path) ?? []);
    return read[0];
  }
  if (shape.kind === "tuple") {
    const parts = NUMBERS.exec(text)?.[1].split(",") ?? [];
    if (parts.length !== shape.items.length) return undefined;
    const said = parts.flatMap((part, index) => saidOf(reading, shape.items[index], part.trim(), path) ?? []);
    return said.length === parts.length ? { kind: "list", parts: said } : undefined;
  }
  if (shape.kind !== "scalar") return undefined;
  const { type } = shape.facts;
  // A default in words, such as the file's name, is no name that somebody wrote.
  if (type === "text" || type === "name" || type === "reference") return undefined;
  const value = type === "flag" ? text === "true" : type === "count" && text !== "" ? Number(text) : text;
  const said = saidScalar(reading, shape, { kind: "scalar", value, style: "plain", start: 0, end: 0 }, path);
  return said.kind === "text" && type !== "word" && type !== "flag" && type !== "count" ? undefined : said;
}
