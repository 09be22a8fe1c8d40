import { valueOf, type Scalar, type TreeNode } from "../syntax/tree.ts";

/** What a value says, as one line that is equal for equal data: names in their own order, whatever the order of the text. */
export type Said = string;

export function saidOf(node: TreeNode | undefined): Said {
  const value = valueOf(node);
  if (value === undefined) return saidScalar(null);
  if (value.kind === "scalar") return saidScalar(value.value);
  if (value.kind === "list") return saidList(value.items.map(saidOf));
  return saidMap(value.entries.map((entry) => saidEntry(entry.name, saidOf(entry.value))));
}

export const saidEntry = (name: string, value: Said): Said => `${JSON.stringify(name)}:${value}`;
export const saidMap = (entries: readonly Said[]): Said => `{${[...entries].sort(byUnits).join(",")}}`;
export const saidList = (items: readonly Said[]): Said => `[${items.join(",")}]`;

/** JSON knows neither infinities nor -0. */
function saidScalar(value: Scalar): Said {
  return typeof value === "number" ? (Object.is(value, -0) ? "-0" : String(value)) : JSON.stringify(value);
}

const byUnits = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);
