import { conversionsOf, spelledAs, type Quantity } from "../../../core/edit/convert-unit.ts";
import { axisDimension } from "../../../core/model/axis-quantity.ts";
import { isWithin, sharedSpans } from "../../../core/edit/times/time-fields.ts";
import { nodeAt, pathAt, type Path } from "../../../core/syntax/locate.ts";
import { entryOf, type ScalarNode } from "../../../core/syntax/tree.ts";
import type { Rewrite } from "./rewrite.ts";
import { scalarsOf, shapesAt } from "../shape-walk.ts";
import type { View } from "../view.ts";

/** The quantity at `offset` in each other unit that says the same. All parts of a point or a pair together. */
export function unitRewrites(view: View, offset: number): readonly Rewrite[] {
  const { path, node, onName } = pathAt(view.tree, offset);
  if (node?.kind !== "scalar" || onName || node.style === "block") return [];
  const parts = partsOf(view, path, node);
  const shared = sharedSpans(view.tree);
  // A value that an alias repeats has other readers.
  if (parts.length === 0 || parts.some((part) => isWithin(part.node, shared))) return [];
  const own = parts.find((part) => part.node === node);
  if (!own) return [];
  return conversionsOf(...written(own)).map(({ unit, written: becomes }) => {
    // A part that stands in this unit already stays.
    const edits = parts.flatMap((part) => {
      const found = conversionsOf(...written(part)).find((one) => one.unit === unit);
      if (!found) return [];
      const { start, end } = part.node;
      const text = spelledAs(view.text.slice(start, end), view.tree.format, found.written);
      return [{ span: { start, end }, text }];
    });
    return { id: `unit-${unit}`, title: `Convert to ${unit}: ${becomes}`, ways: [edits] };
  });
}

interface Part {
  readonly node: ScalarNode;
  readonly quantity: Quantity;
}

function written({ node, quantity }: Part): [string | number, Quantity] {
  return [node.value as string | number, quantity];
}

/** The scalar at `path` and those beside it in its list, each with what it measures. */
function partsOf(view: View, path: Path, node: ScalarNode): readonly Part[] {
  const own = partAt(view, path, node);
  const last = path[path.length - 1];
  if (!own || typeof last !== "number") return own ? [own] : [];
  const list = nodeAt(view.tree, path.slice(0, -1));
  if (list?.kind !== "list") return [own];
  const all = list.items.map((item, i) =>
    item?.kind === "scalar" ? partAt(view, [...path.slice(0, -1), i], item) : undefined,
  );
  const parts = all.filter((part) => part !== undefined);
  const isAlike = ({ quantity }: Part): boolean => JSON.stringify(quantity) === JSON.stringify(own.quantity);
  return parts.length === all.length && parts.every(isAlike) ? parts : [own];
}

function partAt(view: View, path: Path, node: ScalarNode): Part | undefined {
  if (typeof node.value !== "string" && typeof node.value !== "number") return undefined;
  const quantity = quantityAt(view, path);
  return quantity && { node, quantity };
}

function quantityAt(view: View, path: Path): Quantity | undefined {
  for (const { facts } of scalarsOf(shapesAt(view.kind, path))) {
    if (facts.type === "quantity" && facts.dimension !== "number")
      return { kind: "quantity", dimension: facts.dimension };
    if (facts.type === "time") return timeAt(view, path);
    if (facts.type === "axis-quantity") {
      const type = axisTypeAt(view, path);
      return type && { kind: "quantity", dimension: axisDimension(type, facts.order) };
    }
  }
  return undefined;
}

/** A time of a move; in other documents no rate is known. */
function timeAt({ analysis, solved }: View, path: Path): Quantity | undefined {
  const move = analysis.move ?? solved?.move;
  if (!move) return { kind: "quantity", dimension: "time" };
  // A label of `at` counts from the first frame's, a stretch of time from nothing.
  const isKeyTime = path.length === 3 && path[0] === "keys" && path[2] === "at";
  const isStretch = path[0] === "keys" && !isKeyTime;
  return isKeyTime || isStretch
    ? { kind: "time", rate: move.rate, offset: isKeyTime ? move.startFrame : 0 }
    : undefined;
}

/** Type of the axis whose value stands at `path`: named there in a move, stated beside it in a rig. */
function axisTypeAt(view: View, path: Path): "linear" | "rotary" | undefined {
  const move = view.analysis.move ?? view.solved?.move;
  const named = move?.axes.find(({ name }) => name === path[path.length - 1]);
  if (named) return named.type;
  for (let depth = path.length - 1; 0 < depth; depth--) {
    const type = entryOf(nodeAt(view.tree, path.slice(0, depth)), "type")?.value;
    const stated = type?.kind === "scalar" ? type.value : undefined;
    if (stated === "linear" || stated === "rotary") return stated;
  }
  return undefined;
}
