import { entryOf, type MapNode } from "../../syntax/tree.ts";
import { checked, fieldEdits, flowMap, type Rewriting } from "../field-edits.ts";
import { keyItems, keyMap } from "../key-item.ts";
import { axisUnit, storedText } from "../neighbour-units.ts";
import type { SolvedText } from "../write-axes.ts";
import { putNumber } from "./put-number.ts";
import { repeated } from "./shaped.ts";

/** A value that an axis is to have at a key, SI. */
export interface AxisWish {
  readonly name: string;
  readonly dimension: "length" | "angle";
  readonly value: number;
}

/**
 * Writes values of axes at a key: one that stands there in its notation, one that does not as keys beside this one write it.
 *
 * @param step How finely they are written [SI], by dimension.
 */
export function putAxes(
  document: SolvedText,
  key: number,
  wishes: readonly AxisWish[],
  step: Readonly<Record<AxisWish["dimension"], number>>,
): Rewriting {
  const map = keyMap(document, key);
  const { label } = document.move.keys[key];
  if (!map) return repeated(`\`${label}\``);
  const axes = entryOf(map, "axes");
  if (axes && axes.value?.kind !== "map") return repeated(`\`axes\` of \`${label}\``);
  const inner = axes?.value as MapNode | undefined;
  const edits = [];
  const added: (readonly [string, string])[] = [];
  for (const { name, dimension, value } of wishes) {
    const entry = inner && entryOf(inner, name);
    if (!entry) {
      const unit = axisUnit(keyItems(document) ?? [], key, name);
      added.push([name, storedText(value, dimension, unit, step[dimension])]);
      continue;
    }
    const put = putNumber(document, entry.value, value, dimension, step[dimension]);
    if (!put) return repeated(`\`${name}\` of \`${label}\``);
    edits.push(...put.edits);
  }
  if (added.length === 0) return { edits };
  const more = inner
    ? fieldEdits(
        document,
        inner,
        added.map(([name, value]) => ({ kind: "set", name, value })),
      )
    : fieldEdits(document, map, [{ kind: "set", name: "axes", value: flowMap(document.tree, added) }]);
  return checked(document, [...edits, ...more]);
}
