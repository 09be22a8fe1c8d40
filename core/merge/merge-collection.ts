import { blockColumn, cutBlock } from "./cut-block.ts";
import { cutFlow } from "./cut-flow.ts";
import { elementOf, type Element, type Place } from "./element.ts";
import { gapElements } from "./gap.ts";
import { joinBlock, joinFlow } from "./join.ts";
import { crossings } from "./key-clock.ts";
import { withLeanedOn } from "./leaning.ts";
import { matchFields, matchItems, type Row } from "./match-rows.ts";
import { mergeNotes } from "./merge-notes.ts";
import { mergeOrder } from "./merge-order.ts";
import type { Merged, Merging } from "./merging.ts";
import type { Collection, Cut } from "./part.ts";
import { clashRun, type Rows } from "./run.ts";
import { saidList, saidMap, type Said } from "./said.ts";
import { fieldShapes, isTimed, itemShapes, type Shapes } from "./shapes.ts";
import { NotCut, type Three } from "./sides.ts";

/** Merges three maps, or three lists, of one layout, part by part. */
export function mergeCollection(merging: Merging, three: Three<Collection>, shapes: Shapes): Merged {
  const cuts = cutAll(three);
  const { base, ours, theirs } = cuts;
  const isMap = ours.node.kind === "map";
  const place: Place = { isMap, shapesOf: (part) => (isMap ? fieldShapes(shapes, part.name) : itemShapes(shapes, 0)) };
  const rows = isMap
    ? matchFields(base?.parts ?? [], ours.parts, theirs.parts, hasTime(shapes))
    : matchItems(base?.parts ?? [], ours.parts, theirs.parts, itemShapes(shapes, 0), merging);
  const elements = arrange(merging, { rows, ours, theirs, place }, base, shapes);
  const bits = ours.flow
    ? [...mergeNotes(base?.open, ours.open, theirs.open), ...joinFlow(elements, gapOf(cuts))]
    : joinBlock(elements, ours.column, ours.inline);
  return {
    bits: [...bits, ...mergeNotes(base?.close, ours.close, theirs.close)],
    ours: said(isMap, elements, "ours"),
    theirs: said(isMap, elements, "theirs"),
  };
}

function said(isMap: boolean, elements: readonly Element[], side: "ours" | "theirs"): Said {
  const all = elements.flatMap((element) => element[side]);
  return isMap ? saidMap(all) : saidList(all);
}

/** True for the fields of an item that says when. */
const hasTime = (shapes: Shapes): boolean =>
  shapes.some((shape) => shape.kind === "map" && shape.fields.has("at") && shape.fields.has("after"));

/** Takes each side apart, all lines moved to the column of the side that changed it. */
function cutAll({ base, ours, theirs }: Three<Collection>): Three<Cut> {
  if (ours.node.flow) {
    return { base: base && cut(base, 0), ours: cut(ours, 0), theirs: cut(theirs, 0) };
  }
  const column = {
    base: base && blockColumn(base.side.text, base.node),
    ours: blockColumn(ours.side.text, ours.node),
    theirs: blockColumn(theirs.side.text, theirs.node),
  };
  const to = column.ours === column.base ? column.theirs : column.ours;
  return {
    base: base && cut(base, to - (column.base ?? to)),
    ours: cut(ours, to - column.ours),
    theirs: cut(theirs, to - column.theirs),
  };
}

const cut = ({ side, node, region }: Collection, shift: number): Cut =>
  node.flow ? cutFlow(side, node, shift) : cutBlock(side, node, region, shift);

/** Blanks behind a comma as the sides have them. */
function gapOf({ base, ours, theirs }: Three<Cut>): string {
  const used = [ours, theirs, base].flatMap((one) => one?.parts[1]?.lead ?? []);
  return used.find((lead) => lead.trim() === "") ?? " ";
}

/** The elements in their order. */
function arrange(merging: Merging, all: Rows, base: Cut | undefined, shapes: Shapes): readonly Element[] {
  const { rows, ours, theirs, place } = all;
  const merged = rows.map((row, id) => elementOf(merging, row, id, place));
  const made = isTimed(shapes) ? withLeanedOn(all, merged) : merged;
  const inOrder = (side: keyof Row, cut: Cut | undefined): number[] => {
    const ids = new Map(rows.map((row, id) => [row[side], id]));
    return (cut?.parts ?? []).flatMap((part) => {
      const id = ids.get(part);
      return id !== undefined && made[id] ? [id] : [];
    });
  };
  const orders = { base: inOrder("base", base), ours: inOrder("ours", ours), theirs: inOrder("theirs", theirs) };
  const gaps = mergeOrder(orders.base, orders.ours, orders.theirs);
  const kept = (ids: readonly number[]): Element[] => ids.flatMap((id) => made[id] ?? []);
  // The order of fields says nothing, that of items does.
  if (!gaps && place.isMap) return kept([...new Set([...orders.ours, ...orders.theirs])]);
  if (!gaps) throw new NotCut("Both sides put a list into another order.");
  let elements = gaps.flatMap((gap): Element[] => [
    ...gapElements(merging, all, made, gap, shapes),
    ...(gap.then === undefined ? [] : kept([gap.then])),
  ]);
  if (place.isMap) return elements;
  // A run takes the place of two elements or more, so that this ends.
  for (let cross = crossings(merging, all, elements, isTimed(shapes)); cross;) {
    elements = clashRun(all, elements, ...cross);
    cross = crossings(merging, all, elements, isTimed(shapes));
  }
  return elements;
}
