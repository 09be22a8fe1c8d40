import { valueOf, type MapEntry, type MapNode, type TreeNode } from "../../../core/syntax/tree.ts";

/** What an item of a list is called by, the first that it has. */
const NAMES = ["axis", "name", "of", "move"] as const;
/** What tells most of an item or of a named thing, in this order. */
const TELLING = [
  "type",
  "range",
  "at",
  "after",
  "on",
  "follow",
  "times",
  "focal",
  "below",
  "above",
  "between",
] as const;
/** These are told without their names. */
const PLAIN: ReadonlySet<string> = new Set(["type", "range", "focal"]);
/** Shapes of bodies: the name says it all. */
const SHAPES: readonly string[] = ["box", "sphere", "cylinder", "capsule", "mesh"];
const LONGEST = 60;

export function fieldOf(map: MapNode, name: string): MapEntry | undefined {
  return map.entries.find((entry) => entry.name === name);
}

export function itemName(map: MapNode): MapEntry | undefined {
  return NAMES.map((name) => fieldOf(map, name)).find((entry) => entry && scalarText(entry.value) !== "");
}

/** `linear, -0.6 to 0.6`, `at 4 s`, `below 0.3`: as written. */
export function itemDetail(map: MapNode): string {
  const shape = map.entries.find(({ name }) => SHAPES.includes(name))?.name;
  const parts = TELLING.flatMap((name) => {
    const text = written(fieldOf(map, name)?.value, name === "range");
    if (text === "") return [];
    return [PLAIN.has(name) ? text : `${name} ${text}`];
  });
  return cut([...(shape === undefined ? [] : [shape]), ...parts].join(", "));
}

/** Of what is defined by its name: the place of a target, the focal length of a lens. */
export function namedDetail(node: TreeNode | undefined): string {
  const value = valueOf(node);
  return value?.kind === "map" ? itemDetail(value) : cut(written(value, false));
}

/** Text of a scalar, and of a list of scalars: `[2, 0, 1]`, `-0.6 to 0.6`. Empty for anything else. */
function written(node: TreeNode | undefined, isRange: boolean): string {
  const value = valueOf(node);
  if (value?.kind !== "list") return scalarText(value);
  const items = value.items.map((item) => scalarText(item));
  if (items.some((item) => item === "")) return "";
  return isRange ? items.join(" to ") : `[${items.join(", ")}]`;
}

export function scalarText(node: TreeNode | undefined): string {
  const value = valueOf(node);
  return value?.kind === "scalar" && value.value !== null ? String(value.value) : "";
}

function cut(text: string): string {
  return text.length > LONGEST ? `${text.slice(0, LONGEST - 1)}…` : text;
}
