import type { Span } from "../../base/span.ts";
import { formOf } from "../../model/read.ts";
import type { NameKind } from "../../schema/facts.ts";
import type { FieldShape, MapShape, RecordShape, Shape } from "../../schema/shape.ts";
import { valueOf, type ListNode, type MapNode, type TreeNode } from "../../syntax/tree.ts";
import { elementPath, itemParts, type Identity } from "../element.ts";
import { fallbackOf } from "./fallback.ts";
import { renamedMeasure } from "./said-same.ts";
import { saidScalar, type Reading, type Said } from "./said.ts";

/** One value of a document with the names that lead to it. */
export interface SaidField {
  readonly path: readonly string[];
  readonly said: Said;
  readonly span: Span;
  /** What holds where it is left out. */
  readonly fallback?: Said;
}

/** An item of a list or of a map with free names. */
export interface SaidItem {
  readonly path: readonly string[];
  readonly span: Span;
}

/** All that a map says, by the path of names of each value, names of the other side in the place of its own. */
export interface SaidFields {
  readonly fields: ReadonlyMap<string, SaidField>;
  readonly items: ReadonlyMap<string, SaidItem>;
  /** Maps that stand where a single value could stand too. */
  readonly forms: ReadonlyMap<string, SaidItem>;
  /** Names of items, in their order, of each list whose order says something. */
  readonly orders: ReadonlyMap<string, SaidOrder>;
}

export interface SaidOrder {
  readonly path: readonly string[];
  readonly span: Span;
  /** As the other side names them. */
  readonly names: readonly string[];
}

/** How the other side calls what this one calls `name`. */
export type Renaming = (kind: NameKind, name: string) => string;

/** Lists whose order says something: the chain of a rig, the order of the day and of the passes. */
const IN_ORDER: ReadonlySet<string> = new Set(["chain", "shots", "passes"]);

/** Forms of one field that say the same: the single value is this field of the map. */
const LIFTED: Readonly<Record<string, string>> = { aim: "at", plate: "file", deliver: "crop" };

/**
 * Reads what a map of a document says, value by value; what is broken counts as the text that stands there.
 *
 * @param except Fields that are left out.
 */
export function saidFields(
  reading: Reading,
  shape: MapShape,
  node: TreeNode | undefined,
  renaming: Renaming,
  except: readonly string[] = [],
): SaidFields {
  const fields = new Map<string, SaidField>();
  const items = new Map<string, SaidItem>();
  const forms = new Map<string, SaidItem>();
  const orders = new Map<string, SaidOrder>();
  const map = valueOf(node);
  if (map?.kind === "map") readMap({ reading, renaming, fields, items, forms, orders, except }, shape, map, HERE);
  return { fields, items, forms, orders };
}

interface Walk {
  readonly reading: Reading;
  readonly renaming: Renaming;
  readonly fields: Map<string, SaidField>;
  readonly items: Map<string, SaidItem>;
  readonly forms: Map<string, SaidItem>;
  readonly orders: Map<string, SaidOrder>;
  /** Names at the root that are left out. */
  readonly except: readonly string[];
}

/** A way to a value: as this side names it, and as the other one would. */
interface Way {
  readonly own: readonly string[];
  readonly other: readonly string[];
}

const HERE: Way = { own: [], other: [] };
const further = ({ own, other }: Way, part: string, otherPart = part): Way => ({
  own: [...own, part],
  other: [...other, otherPart],
});

function put(walk: Walk, way: Way, said: Said, span: Span, fallback?: Said): void {
  const name = elementPath(way.other);
  if (walk.fields.has(name)) return;
  walk.fields.set(name, { path: way.own, said, span, ...(fallback ? { fallback } : {}) });
}

function readMap(walk: Walk, shape: MapShape, map: MapNode, way: Way, lifted?: string): void {
  for (const { name, value, start, end } of map.entries) {
    if (way.own.length === 0 && walk.except.includes(name)) continue;
    const field = shape.fields.get(name);
    const to = name === lifted ? way : further(way, name);
    if (!field) put(walk, to, asWritten(walk, value ?? { start: end, end }), { start, end });
    else if (!isVersion(field)) readValue(walk, field.shape, value, to, field);
  }
}

const isVersion = ({ shape }: FieldShape): boolean => shape.kind === "scalar" && shape.facts.type === "version";

function readValue(walk: Walk, shape: Shape, node: TreeNode | undefined, way: Way, field?: FieldShape): void {
  const value = valueOf(node);
  if (!node || !value) return;
  const form = shape.kind === "either" ? formOf(shape, value) : shape;
  const lifted = shape.kind === "either" ? LIFTED[way.own[way.own.length - 1]] : undefined;
  if (shape.kind === "either" && value.kind === "map")
    walk.forms.set(elementPath(way.other), { path: way.own, span: node });
  if (form?.kind === "map" && value.kind === "map") readMap(walk, form, value, way, lifted);
  else if (form?.kind === "record" && value.kind === "map") readRecord(walk, form, value, way);
  else if (form?.kind === "list" && value.kind === "list" && isOfMaps(value)) readItems(walk, form.item, value, way);
  else {
    const fallback = field && fallbackOf(walk.reading, field, way.own);
    put(walk, way, saidValue(walk, form, value, way) ?? asWritten(walk, node), node, fallback);
  }
}

function readRecord(walk: Walk, shape: RecordShape, map: MapNode, way: Way): void {
  for (const { name, value, start, end } of map.entries) {
    const to = further(way, name, shape.names ? walk.renaming(shape.names.kind, name) : name);
    walk.items.set(elementPath(to.other), { path: to.own, span: { start, end } });
    readValue(walk, shape.item, value, to);
  }
}

const isOfMaps = ({ items }: ListNode): boolean =>
  items.length > 0 && items.every((item) => valueOf(item)?.kind === "map");

function readItems(walk: Walk, shape: Shape, list: ListNode, way: Way): void {
  const own = itemParts(list);
  const names = itemParts(list, (name, field) => renamedItem(walk.renaming, name, field));
  list.items.forEach((item, index) => {
    const to = further(way, own[index], names[index]);
    if (item) walk.items.set(elementPath(to.other), { path: to.own, span: item });
    readValue(walk, shape, item, to);
  });
  if (IN_ORDER.has(way.own[way.own.length - 1])) {
    walk.orders.set(elementPath(way.other), { path: way.own, span: list, names });
  }
}

/** What the side after calls an item that stands under this name in a field of it. */
function renamedItem(renaming: Renaming, name: string, field: Identity): string {
  if (field === "of") return renamedMeasure(renaming, name);
  return renaming(field === "axis" || field === "on" ? "axis" : "body", name);
}

/** A value that is told as one: a single one, or a list of them. `undefined` for one that is of no form that is known. */
function saidValue(walk: Walk, shape: Shape | undefined, value: TreeNode, way: Way): Said | undefined {
  if (shape?.kind === "scalar" && value.kind === "scalar") return saidScalar(walk.reading, shape, value, way.own);
  if (shape?.kind === "either") {
    const inner = valueOf(value);
    return inner && saidValue(walk, formOf(shape, inner), inner, way);
  }
  if (value.kind !== "list" || (shape?.kind !== "list" && shape?.kind !== "tuple")) return undefined;
  const parts = value.items.map((item, index): Said => {
    const inner = valueOf(item);
    const each = shape.kind === "list" ? shape.item : shape.items[index];
    return (inner && saidValue(walk, each, inner, way)) ?? asWritten(walk, item ?? value);
  });
  return { kind: "list", parts: shape.kind === "tuple" && shape.direction ? ofUnitLength(parts) : parts };
}

/** A direction says the same whatever its length. */
function ofUnitLength(parts: readonly Said[]): readonly Said[] {
  const length = Math.hypot(...parts.map((part) => (part.kind === "number" ? part.si : NaN)));
  if (!(length > 0)) return parts;
  return parts.map((part) => (part.kind === "number" ? { ...part, si: part.si / length } : part));
}

/** Text that could not be read, or is of a form of its own, on one line. */
const asWritten = ({ reading }: Walk, { start, end }: Span): Said => ({
  kind: "text",
  text: reading.text.slice(start, end).replace(/\s+/g, " ").trim(),
});
