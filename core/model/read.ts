import { nameAdvice } from "../base/listing.ts";
import type { Span } from "../base/span.ts";
import { nearestName } from "../base/nearest-name.ts";
import { nameFault } from "../schema/field-types.ts";
import type { EitherShape, ListShape, MapShape, RecordShape, Shape, TupleShape } from "../schema/shape.ts";
import { valueOf, type AliasNode, type MapNode, type TreeNode } from "../syntax/tree.ts";
import { sayValue, type Slot } from "./slot.ts";
import type { Stated, StatedFields } from "./declared.ts";
import { expectation } from "../schema/expectation.ts";
import { readScalar, takesScalar } from "./read-scalar.ts";
import { isFull, replacement, report, type Reporter } from "./report.ts";

/** Most items of one list. More give `too-large`; those beyond are not read. */
export const MAX_ITEMS = 20_000;

/** Reads a value by its shape: the declaration, or `undefined` after a finding. See `Declared` for what comes out. */
export function readValue(to: Reporter, shape: Shape, node: TreeNode | undefined, slot: Slot): unknown {
  const value = valueOf(node);
  if (!value || (value.kind === "scalar" && value.value === null)) {
    // An alias without a target has its finding from the tree.
    if (node?.kind !== "alias") {
      report(to, "wrong-type", slot.span, `\`${slot.label}\` has no value; ${expectation(shape)} is expected.`);
    }
    return undefined;
  }
  switch (shape.kind) {
    case "map":
      return value.kind === "map" ? readMap(to, shape, value, slot) : wrongType(to, shape, value, slot);
    case "record":
      return value.kind === "map" ? readRecord(to, shape, value, slot) : wrongType(to, shape, value, slot);
    case "list":
      return value.kind === "list" ? readList(to, shape, value, slot) : wrongType(to, shape, value, slot);
    case "tuple":
      return value.kind === "list" ? readTuple(to, shape, value, slot) : wrongType(to, shape, value, slot);
    case "either":
      return readEither(to, shape, value, slot);
    case "scalar":
      return value.kind === "scalar" ? readScalar(to, shape, value, slot) : wrongType(to, shape, value, slot);
  }
}

export type Value = Exclude<TreeNode, AliasNode>;
export type ListValue = Extract<TreeNode, { kind: "list" }>;

/** Fields of a map; those that are broken or missing are left out. */
export function readMap(
  to: Reporter,
  shape: MapShape,
  map: MapNode,
  slot: Slot,
  readField: typeof readValue = readValue,
): StatedFields<Record<string, unknown>> {
  const value: Record<string, unknown> = {};
  const names = new Map<string, Span>();
  for (const entry of map.entries) {
    if (names.has(entry.name) || isFull(to)) continue;
    names.set(entry.name, entry.nameSpan);
    const field = shape.fields.get(entry.name);
    if (!field) unknownField(to, [...shape.fields.keys()], entry.name, entry.nameSpan, slot);
    else value[entry.name] = readField(to, field.shape, entry.value, { label: entry.name, span: entry.nameSpan });
  }
  for (const field of shape.fields.values()) {
    if (!field.required || names.has(field.name)) continue;
    if (field.shape.kind === "scalar" && field.shape.facts.type === "version") {
      reportNoVersion(to, field.name, map);
      continue;
    }
    const message = `\`${slot.label}\` lacks \`${field.name}\`, ${expectation(field.shape)}. ${field.doc}`;
    report(to, "missing-field", slot.span, message);
  }
  return { value, span: spanOf(map), names };
}

/** Where to point for what a map lacks: its first name, else its first character. */
export function headOf({ names, span }: StatedFields<unknown>): Span {
  for (const name of names.values()) return name;
  return { start: span.start, end: span.start + 1 };
}

const spanOf = ({ start, end }: Span): Span => ({ start, end });

/** The first line of a document is missing; the cure writes it. */
function reportNoVersion(to: Reporter, name: string, map: MapNode): void {
  const span = map.entries[0]?.nameSpan ?? { start: map.start, end: map.start + 1 };
  const text = to.format === "json" ? `"${name}": 1, ` : `${name}: 1${map.flow ? ", " : "\n"}`;
  const start = map.flow ? map.start + 1 : map.start;
  const edit = { span: { start, end: start }, text };
  const cure = { title: `Write \`${name}: 1\` first`, file: to.file, edits: [edit] };
  report(to, "missing-field", span, `A ${name} begins with \`${name}: 1\`, the version of its language.`, {
    cures: [cure],
  });
}

function unknownField(to: Reporter, known: readonly string[], name: string, span: Span, slot: Slot): void {
  const nearest = nearestName(name, known);
  const message = `\`${slot.label}\` has no field \`${name}\`. ${nameAdvice(nearest, known, "It has none.")}`;
  report(to, "unknown-field", span, message, nearest === undefined ? {} : { cures: [replacement(to, span, nearest)] });
}

function readRecord(to: Reporter, shape: RecordShape, map: MapNode, slot: Slot): Stated<ReadonlyMap<string, unknown>> {
  const value = new Map<string, unknown>();
  const seen = new Set<string>();
  for (const { name, nameSpan, value: node } of map.entries) {
    if (seen.has(name) || isFull(to)) continue;
    seen.add(name);
    if (shape.known && !shape.known.includes(name)) {
      unknownField(to, shape.known, name, nameSpan, slot);
      continue;
    }
    const fault = shape.known ? undefined : nameFault(name);
    if (fault !== undefined) {
      report(to, "wrong-type", nameSpan, `\`${name}\` cannot be a name in \`${slot.label}\`: ${fault}.`);
      continue;
    }
    const item = readValue(to, shape.item, node, { label: name, span: nameSpan });
    if (item !== undefined) value.set(name, { nameSpan, item });
  }
  return { value, span: spanOf(map) };
}

function readList(to: Reporter, shape: ListShape, list: ListValue, slot: Slot): Stated<readonly unknown[]> {
  const value = itemsToRead(to, list, slot).map((item, index) => {
    return isFull(to) ? undefined : readValue(to, shape.item, item, itemSlot(item, index, slot));
  });
  return { value, span: spanOf(list) };
}

/** The items of a list, without those beyond the cap. */
export function itemsToRead(to: Reporter, { items, start }: ListValue, slot: Slot): ListValue["items"] {
  if (items.length <= MAX_ITEMS) return items;
  const first = items[MAX_ITEMS]?.start ?? start;
  const message = `\`${slot.label}\` has ${items.length} items; at most ${MAX_ITEMS} are read.`;
  report(to, "too-large", { start: first, end: first + 1 }, message);
  return items.slice(0, MAX_ITEMS);
}

export const itemSlot = (item: TreeNode | undefined, index: number, slot: Slot): Slot => ({
  label: `${slot.label}[${index}]`,
  span: itemSpan(item, slot),
});

/** Where to point for what an item lacks: the name of its first field, else its first character. */
function itemSpan(item: TreeNode | undefined, slot: Slot): Span {
  if (!item) return slot.span;
  if (item.kind === "map" && item.entries.length > 0) return item.entries[0].nameSpan;
  return item.kind === "scalar" || item.kind === "alias" ? item : { start: item.start, end: item.start + 1 };
}

/** All parts or nothing: two of three coordinates are no point. */
function readTuple(
  to: Reporter,
  shape: TupleShape,
  list: ListValue,
  slot: Slot,
): Stated<readonly unknown[]> | undefined {
  if (list.items.length !== shape.items.length) {
    const message = `\`${slot.label}\` has ${list.items.length} numbers; ${expectation(shape)} is expected.`;
    report(to, "wrong-type", list, message);
    return undefined;
  }
  const value = shape.items.map((item, index) => {
    const span = list.items[index] ?? list;
    return readValue(to, item, list.items[index], { label: slot.label, span });
  });
  if (value.includes(undefined)) return undefined;
  if (shape.direction && value.every((part) => Math.abs((part as Stated<number>).value) < 1e-12)) {
    report(to, "bad-number", list, `\`${slot.label}\` is a direction and cannot be [0, 0, 0].`);
    return undefined;
  }
  return { value, span: spanOf(list) };
}

/** Which form of a choice is written; `undefined` for none of them. */
export const formOf = (shape: EitherShape, value: Value): Shape | undefined =>
  shape.options.find((each) => takes(each, value, shape.options));

/** The form is told by what is written: a map, a list, a word, a number with a unit, else a name. */
function readEither(to: Reporter, shape: EitherShape, value: Value, slot: Slot): unknown {
  const option = formOf(shape, value);
  if (option) return readValue(to, option, value, slot);
  const said = sayValue(to, value);
  const nearest = value.kind === "scalar" ? nearestName(String(value.value), wordsOf(shape)) : undefined;
  const message = `\`${slot.label}\` cannot be ${said}; ${shape.choice} is expected.`;
  report(to, "wrong-type", value, message, nearest === undefined ? {} : { cures: [replacement(to, value, nearest)] });
  return undefined;
}

function wordsOf(shape: EitherShape): string[] {
  return shape.options.flatMap((option) =>
    option.kind === "scalar" && option.facts.type === "word" ? Object.keys(option.facts.words) : [],
  );
}

function takes(option: Shape, value: Value, options: readonly Shape[]): boolean {
  if (value.kind === "map") return option.kind === "map" || option.kind === "record";
  if (value.kind === "scalar") return option.kind === "scalar" && takesScalar(option, value, options);
  if (option.kind === "tuple") return !options.some((other) => other.kind === "list") || !isNested(value);
  return option.kind === "list";
}

const isNested = (value: ListValue): boolean => valueOf(value.items[0])?.kind === "list";

function wrongType(to: Reporter, shape: Shape, value: Value, slot: Slot): undefined {
  const said = sayValue(to, value);
  const span = value.kind === "scalar" ? value : slot.span;
  report(to, "wrong-type", span, `\`${slot.label}\` cannot be ${said}; ${expectation(shape)} is expected.`);
  return undefined;
}
