import type { Span } from "../base/span.ts";
import type { PlacedFinding } from "../checks/finding.ts";
import { valueOf, type ListNode, type MapNode, type Tree, type TreeNode } from "../syntax/tree.ts";

/** Fields by which an item of a list is told from the others, whatever its position; the first that is written counts. */
const IDENTITY = ["name", "axis", "code", "of", "move", "from", "on"] as const;
export type Identity = (typeof IDENTITY)[number];

/**
 * What a finding is about, however lines and numbers move: the names of fields that lead to its place, items of lists by
 * their names, an item without one by its position from 1, then what else tells it from others there.
 * `keys.rise.axes.pan`, `keys[2].aim`, `keys.rise (matte box, spout)`. Several findings of one code may share it; `document`
 * stands for the whole text.
 *
 * @param tree The text that the finding stands in, as it was read.
 */
export function elementOf(finding: PlacedFinding, tree: Tree | undefined): string {
  return elementAt(finding, pathOf(finding, tree));
}

/** The element of a finding whose place is at this path. */
export function elementAt(finding: PlacedFinding, path: readonly string[]): string {
  const marks = marksOf(finding, path);
  return [elementPath(path), ...(marks.length > 0 ? [`(${marks.join(", ")})`] : [])].join(" ");
}

/** Parts of a path as an element says them: `keys.rise.axes.pan`. */
export function elementPath(path: readonly string[]): string {
  if (path.length === 0) return "document";
  return path.reduce((all, part) => (part.startsWith("[") || all === "" ? `${all}${part}` : `${all}.${part}`), "");
}

/** Names and positions that lead to a finding's place, from the root. */
export function pathOf({ place, code }: PlacedFinding, tree: Tree | undefined): readonly string[] {
  const path: string[] = [];
  let node = place.span.end > 0 ? valueOf(tree?.root) : undefined;
  while (node) {
    const inner = inward(node, place.span, code === "missing-field");
    if (!inner) break;
    path.push(inner.part);
    node = valueOf(inner.node);
  }
  return path;
}

interface Inward {
  readonly part: string;
  /** Absent where the path ends here. */
  readonly node: TreeNode | undefined;
}

const holds = (outer: Span | undefined, { start, end }: Span): boolean =>
  outer !== undefined && outer.start <= start && end <= outer.end;

/**
 * One step towards a span. A span that is more than one name or value is about what holds them all. What a map lacks is
 * told at one of its names, often the first, whichever that is.
 */
function inward(node: TreeNode, span: Span, isLack: boolean): Inward | undefined {
  if (node.kind === "map") {
    const entry = node.entries.find(({ nameSpan, value }) => holds(nameSpan, span) || holds(value, span));
    if (!entry || (isLack && holds(entry.nameSpan, span))) return undefined;
    return { part: entry.name, node: holds(entry.value, span) ? entry.value : undefined };
  }
  if (node.kind !== "list") return undefined;
  const index = node.items.findIndex((item) => holds(item, span));
  return index < 0 ? undefined : { part: itemPart(node, index), node: node.items[index] };
}

/** The name of a list's item as a part of a path; one that is not the first of its name has its number behind it. */
export function itemPart(list: ListNode, index: number): string {
  const name = identityOf(list.items[index])?.text;
  if (name === undefined) return `[${index + 1}]`;
  const before = list.items.slice(0, index).filter((item) => identityOf(item)?.text === name).length;
  return numbered(name, before);
}

/**
 * The same of all items of a list.
 *
 * @param rename What becomes of a name that stands in a field of an item.
 */
export function itemParts(
  list: ListNode,
  rename: (name: string, field: Identity) => string = (name) => name,
): string[] {
  const counts = new Map<string, number>();
  return list.items.map((item, index) => {
    const known = identityOf(item);
    if (!known) return `[${index + 1}]`;
    const name = rename(known.text, known.field);
    const before = counts.get(name) ?? 0;
    counts.set(name, before + 1);
    return numbered(name, before);
  });
}

const numbered = (name: string, before: number): string => (before === 0 ? name : `${name}[${before + 1}]`);

/** By what an item of a list is known, however many stand before it. */
function identityOf(item: TreeNode | undefined): { readonly field: Identity; readonly text: string } | undefined {
  const map = valueOf(item);
  if (map?.kind !== "map") return undefined;
  for (const field of IDENTITY) {
    const text = textOf(map, field);
    if (text !== undefined) return { field, text };
  }
  return undefined;
}

function textOf(map: MapNode, field: string): string | undefined {
  const value = valueOf(map.entries.find(({ name }) => name === field)?.value);
  return value?.kind === "scalar" && value.value !== null ? String(value.value).trim() : undefined;
}

/** What tells findings of one code at one place from each other. */
function marksOf({ code, axis, bodies, pass, unit }: PlacedFinding, path: readonly string[]): string[] {
  return [
    ...(axis === undefined || path.includes(axis) ? [] : [axis]),
    // One axis may be near to its limits of speed and of jerk at once.
    ...(code === "near-limit" && unit !== undefined ? [unit] : []),
    ...(bodies ? [bodies.part, bodies.target] : []),
    ...(pass === undefined ? [] : [`pass ${pass}`]),
  ];
}
