import type { Dimension } from "../base/dimension.ts";
import { parseQuantity, trimmed } from "../base/units.ts";
import { entryOf, valueOf, type MapNode, type Scalar, type TreeNode } from "../syntax/tree.ts";

/** How finely solved values are stored: 1e-6 m, 1e-5 deg [SI]. */
const STORED: Readonly<Partial<Record<Dimension, number>>> = { length: 1e-6, angle: (1e-5 * Math.PI) / 180 };

/** The unit that a number is written in, with the space before it; empty for a bare number, `undefined` for no number. */
export function unitOf(written: Scalar | undefined): string | undefined {
  if (typeof written === "number") return "";
  if (typeof written !== "string") return undefined;
  const match = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?(\s*[^\d\s].*)?$/s.exec(written.trim());
  return match ? (match[1] ?? "") : undefined;
}

/**
 * An SI value in a unit: `0.25`, `250 mm`. In a unit of another dimension it is bare.
 *
 * @param step How finely it is written, SI; absent: as solved values are stored.
 */
export function storedText(si: number, dimension: Dimension, unit: string, step = STORED[dimension] ?? 1e-6): string {
  const asked = parseQuantity(unit === "" ? 1 : `1${unit}`, dimension);
  const one = asked.ok ? asked : parseQuantity(1, dimension);
  const size = one.ok ? one.value : 1;
  const digits = Math.max(0, Math.ceil(Math.log10(size / step) - 1e-9));
  return `${trimmed(si / size, digits)}${asked.ok ? unit : ""}`;
}

/** The unit in which keys near `key` write an axis; bare where none does. */
export function axisUnit(items: readonly (TreeNode | undefined)[], key: number, axis: string): string {
  const unitIn = (item: MapNode): string | undefined => scalarUnit(entryOf(entryOf(item, "axes")?.value, axis)?.value);
  return nearest(items, key, unitIn) ?? "";
}

/** The unit in which keys near `key` write places of the camera; bare where none does. */
export function pointUnit(items: readonly (TreeNode | undefined)[], key: number): string {
  const unitIn = (item: MapNode): string | undefined => {
    const camera = entryOf(item, "camera")?.value;
    const list = valueOf(entryOf(camera, "at")?.value ?? entryOf(camera, "offset")?.value);
    return list?.kind === "list" ? scalarUnit(list.items[0]) : undefined;
  };
  return nearest(items, key, unitIn) ?? "";
}

/** The value with which `find` answers first, from key `key` outwards. */
function nearest<T>(
  items: readonly (TreeNode | undefined)[],
  key: number,
  find: (item: MapNode) => T | undefined,
): T | undefined {
  for (let far = 0; far < items.length; far++) {
    for (const at of far === 0 ? [key] : [key - far, key + far]) {
      const item = valueOf(items[at]);
      const found = item?.kind === "map" ? find(item) : undefined;
      if (found !== undefined) return found;
    }
  }
  return undefined;
}

function scalarUnit(node: TreeNode | undefined): string | undefined {
  const value = valueOf(node);
  return value?.kind === "scalar" ? unitOf(value.value) : undefined;
}
