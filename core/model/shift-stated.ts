import type { Problem } from "../base/problem.ts";
import type { Span } from "../base/span.ts";
import type { Stated, StatedEntry, StatedFields } from "./declared.ts";

const shiftSpan = ({ start, end }: Span, by: number): Span => ({ start: start + by, end: end + by });

/** The same declaration, see `Declared`, `by` characters further on. */
export function shiftStated(stated: unknown, by: number): unknown {
  if (stated === undefined) return undefined;
  const { value, span } = stated as Stated<unknown>;
  const moved = { value: shiftValue(value, by), span: shiftSpan(span, by) };
  if (!isFields(stated as object)) return moved;
  const fields: Record<string, unknown> = {};
  for (const [name, field] of Object.entries(value as Record<string, unknown>)) fields[name] = shiftStated(field, by);
  const names = new Map<string, Span>();
  for (const [name, place] of (stated as StatedFields<unknown>).names) names.set(name, shiftSpan(place, by));
  return { value: fields, span: moved.span, names };
}

const isFields = (stated: object): boolean => "names" in stated;

/** Parts of a list and entries of a map are declarations; any other value has no places. */
function shiftValue(value: unknown, by: number): unknown {
  if (Array.isArray(value)) return value.map((part) => shiftStated(part, by));
  if (!(value instanceof Map)) return value;
  const entries = new Map<string, StatedEntry<unknown>>();
  for (const [name, { nameSpan, item }] of value as ReadonlyMap<string, StatedEntry<unknown>>) {
    entries.set(name, { nameSpan: shiftSpan(nameSpan, by), item: shiftStated(item, by) });
  }
  return entries;
}

/** The same problem and its cures, `by` characters further on. Related places stay. */
export function shiftProblem(problem: Problem, by: number): Problem {
  if (by === 0) return problem;
  const { place, cures } = problem;
  const moved = { ...problem, place: { file: place.file, span: shiftSpan(place.span, by) } };
  if (!cures) return moved;
  const cured = cures.map((cure) => ({
    ...cure,
    edits: cure.edits.map(({ span, text }) => ({ span: shiftSpan(span, by), text })),
  }));
  return { ...moved, cures: cured };
}
