import type { Span } from "../../../core/base/span.ts";
import type { MoveAxis, ResolvedMove } from "../../../core/motion/resolved-move.ts";
import { isWithin, sharedSpans } from "../../../core/edit/times/time-fields.ts";
import { quotedAs } from "../../../core/edit/times/time-edits.ts";
import { readValue, writeValue, type ValueStyle } from "../../../core/edit/rounded-value.ts";
import { entryOf, valueOf, type Tree, type TreeNode } from "../../../core/syntax/tree.ts";

type Measure = "length" | "angle" | "number";

/** A value that a move states and that another value could stand for. */
export interface StatedValue {
  /** `lift at key 2`. */
  readonly what: string;
  readonly span: Span;
  /** As it is written, quotes included. */
  readonly written: string;
  readonly style: ValueStyle;
  readonly dimension: Measure;
  /** SI. */
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Change that counts as a whole one, SI: the axis's range, a turn, 1 m, the picture. */
  readonly whole: number;
  /** True for what holds for the whole move: where the rig stands and how it is set up. */
  readonly isOfMove: boolean;
  /** True for where in the picture something is to be. */
  readonly isFraming: boolean;
}

/** A document of a move as it was solved. */
export interface MoveText {
  readonly text: string;
  readonly tree: Tree;
  readonly move: ResolvedMove;
}

/** The text of a value changed to another one [SI]. */
export const valueEdit = ({ span, written, style }: StatedValue, value: number): { span: Span; text: string } => ({
  span,
  text: quotedAs(written, writeValue(value, style)),
});

/** What counts besides the rig's place: the framing, which turns the head alone, and what the lens is set to. */
export interface Counting {
  readonly framing: boolean;
  readonly lens: boolean;
}

/**
 * What the text states that a finding at one key hangs on: values of that key and of the key before, of each axis the ones that
 * it comes from and goes to, and last what holds for the whole move.
 */
export function valuesAround(document: MoveText, key: number, { framing, lens }: Counting): readonly StatedValue[] {
  const { tree, move } = document;
  const keys = valueOf(entryOf(tree.root, "keys")?.value);
  // A key that could not be read leaves the others without their places.
  if (keys?.kind !== "list" || keys.items.length !== move.keys.length) return [];
  const { items } = keys;
  const reading: Reading = { ...document, shared: sharedSpans(tree), items };
  const near = [key, key - 1].filter((idx) => 0 <= idx);
  return [
    ...move.axes.flatMap((axis) => axisValues(reading, axis, key)),
    ...near.flatMap((idx) => cameraValues(reading, idx)),
    ...(framing ? near.flatMap((idx) => framingValues(reading, idx)) : []),
    ...(lens ? near.flatMap((idx) => lensValues(reading, idx)) : []),
    ...wholeValues(reading),
  ];
}

interface Reading extends MoveText {
  readonly shared: readonly Span[];
  readonly items: readonly (TreeNode | undefined)[];
}

interface Bounds {
  readonly low: number;
  readonly high: number;
  readonly whole: number;
}

const FREE: Readonly<Record<Measure, Bounds>> = {
  length: { low: -Infinity, high: Infinity, whole: 1 },
  angle: { low: -Infinity, high: Infinity, whole: 2 * Math.PI },
  number: { low: 0, high: 1, whole: 1 },
};

/** Of an axis: what its key says or, where that says nothing, the keys on both sides; and the key that it comes from. */
function axisValues(reading: Reading, axis: MoveAxis, key: number): StatedValue[] {
  const { items, move } = reading;
  const nodeAt = (idx: number): TreeNode | undefined => entryOf(entryOf(items[idx], "axes")?.value, axis.name)?.value;
  const stating = items.flatMap((_, idx) => (nodeAt(idx) ? [idx] : []));
  const before = stating.filter((idx) => idx < key).pop();
  const next = stating.find((idx) => key <= idx);
  return [next, before].flatMap((idx) => {
    if (idx === undefined) return [];
    return statedValue(reading, nodeAt(idx), measureOf(axis), `${axis.name} at ${move.keys[idx].label}`, false, axis);
  });
}

const measureOf = ({ type }: MoveAxis): Measure => (type === "linear" ? "length" : "angle");

const DIRECTIONS = ["x", "y", "z"];

function cameraValues(reading: Reading, key: number): StatedValue[] {
  const { items, move } = reading;
  const camera = entryOf(items[key], "camera")?.value;
  const { label } = move.keys[key];
  return [
    ...listValues(
      reading,
      entryOf(camera, "at")?.value,
      "length",
      DIRECTIONS,
      (one) => `${one} of the camera at ${label}`,
    ),
    ...listValues(
      reading,
      entryOf(camera, "offset")?.value,
      "length",
      DIRECTIONS,
      (one) => `${one} of the camera's offset at ${label}`,
    ),
  ];
}

function framingValues(reading: Reading, key: number): StatedValue[] {
  const { items, move } = reading;
  const framing = entryOf(entryOf(items[key], "aim")?.value, "framing")?.value;
  const list = entryOf(framing, "delivered")?.value ?? framing;
  const names = ["across", "down"];
  const values = listValues(reading, list, "number", names, (one) => `framing ${one} at ${move.keys[key].label}`);
  return values.map((value) => ({ ...value, isFraming: true }));
}

/** A focus distance and a focal length: half of it more or less is a large change. */
function lensValues(reading: Reading, key: number): StatedValue[] {
  const { items, move } = reading;
  const { label } = move.keys[key];
  return ["focus", "zoom"].flatMap((name) =>
    statedValue(reading, entryOf(items[key], name)?.value, "length", `${name} at ${label}`, false).map((one) => ({
      ...one,
      low: one.value / 100,
      whole: one.value / 2,
    })),
  );
}

function wholeValues(reading: Reading): StatedValue[] {
  const { tree, move } = reading;
  const place = entryOf(tree.root, "place")?.value;
  const setup = entryOf(tree.root, "setup")?.value;
  return [
    ...listValues(reading, entryOf(place, "at")?.value, "length", DIRECTIONS, (one) => `${one} of the place`, true),
    ...statedValue(reading, entryOf(place, "heading")?.value, "angle", "heading of the place", true),
    ...move.axes.flatMap((axis) =>
      // One that takes a few positions only has none between them.
      axis.role !== "setup" || axis.positions
        ? []
        : statedValue(
            reading,
            entryOf(setup, axis.name)?.value,
            measureOf(axis),
            `${axis.name} of the set-up`,
            true,
            axis,
          ),
    ),
  ];
}

function listValues(
  reading: Reading,
  node: TreeNode | undefined,
  dimension: Measure,
  names: readonly string[],
  what: (name: string) => string,
  isOfMove = false,
): StatedValue[] {
  const list = valueOf(node);
  if (list?.kind !== "list") return [];
  return list.items.flatMap((item, k) =>
    k < names.length ? statedValue(reading, item, dimension, what(names[k]), isOfMove) : [],
  );
}

function statedValue(
  { text, shared }: Reading,
  node: TreeNode | undefined,
  dimension: Measure,
  what: string,
  isOfMove: boolean,
  axis?: MoveAxis,
): StatedValue[] {
  // What an alias repeats would change elsewhere too.
  if (node?.kind !== "scalar" || node.style === "block" || isWithin(node, shared)) return [];
  const span = { start: node.start, end: node.end };
  const written = text.slice(span.start, span.end);
  const read = readValue(node.value, dimension);
  if (!read || /[\r\n]/.test(written)) return [];
  const range = axis?.range;
  const bounds = range ? { ...range, whole: range.high - range.low } : FREE[dimension];
  return [
    { what, span, written, style: read.style, dimension, value: read.value, ...bounds, isOfMove, isFraming: false },
  ];
}
