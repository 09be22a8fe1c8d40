import { valueOf, type Scalar, type TreeNode } from "../syntax/tree.ts";

/** What a document says, without its layout: aliases written out, names in the order of the text, doubled ones as they stand. */
export type PlainData = PlainMap | PlainList | PlainScalar;

export interface PlainMap {
  readonly kind: "map";
  readonly entries: readonly (readonly [name: string, value: PlainData])[];
}

export interface PlainList {
  readonly kind: "list";
  readonly items: readonly PlainData[];
}

export interface PlainScalar {
  readonly kind: "scalar";
  readonly value: Scalar;
  /** A number as it is written, such as `0.50`. */
  readonly spelled?: string;
}

const NULL: PlainScalar = { kind: "scalar", value: null };

/** A value of a tree as data; what is not written is null. An alias without a target is null too: the tree has a problem there. */
export function plainData(node: TreeNode | undefined, text: string): PlainData {
  const value = valueOf(node);
  if (value === undefined) return NULL;
  if (value.kind === "map") {
    return { kind: "map", entries: value.entries.map((entry) => [entry.name, plainData(entry.value, text)]) };
  }
  if (value.kind === "list") return { kind: "list", items: value.items.map((item) => plainData(item, text)) };
  if (typeof value.value !== "number" || value.style !== "plain") return { kind: "scalar", value: value.value };
  return { kind: "scalar", value: value.value, spelled: text.slice(value.start, value.end) };
}

/** True where two documents say the same: the same names in the same order, equal values. -0 is another number than 0. */
export function isSamePlain(one: PlainData, other: PlainData): boolean {
  if (one.kind === "scalar") return other.kind === "scalar" && Object.is(one.value, other.value);
  if (one.kind === "list") {
    if (other.kind !== "list" || one.items.length !== other.items.length) return false;
    return one.items.every((item, i) => isSamePlain(item, other.items[i]));
  }
  if (other.kind !== "map" || one.entries.length !== other.entries.length) return false;
  return one.entries.every(([name, value], i) => {
    const [otherName, otherValue] = other.entries[i];
    return name === otherName && isSamePlain(value, otherValue);
  });
}

/** A number as JSON and YAML both read it: as it is written where both can, else by its value. */
export function numberText({ value, spelled }: PlainScalar & { readonly value: number }): string {
  if (spelled !== undefined && COMMON_NUMBER.test(spelled)) return spelled;
  return Object.is(value, -0) ? "-0" : String(value);
}

const COMMON_NUMBER = /^-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?$/;
