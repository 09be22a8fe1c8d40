import { axisDimension } from "../model/axis-quantity.ts";
import { aimingAxes } from "../model/move-context.ts";
import { entryOf, valueOf } from "../syntax/tree.ts";
import type { TextEdits } from "./apply-edits.ts";
import { fieldEdits, flowMap } from "./field-edits.ts";
import { leavesAt } from "../motion/key-timing.ts";
import { storedText } from "./neighbour-units.ts";
import type { SolvedText } from "./write-axes.ts";

/**
 * The edit that lets turning axes which aim begin near the values that they have when the camera leaves key `key`;
 * `undefined` where nothing aims or the field cannot be written.
 *
 * @param valueOfAxis What becomes of a value [rad, m]; absent: it stays.
 */
export function writableNear(
  document: SolvedText,
  key: number,
  valueOfAxis: (value: number, axis: number) => number = (value) => value,
): TextEdits | undefined {
  const { tree, move, trajectory } = document;
  const root = tree.root;
  const aiming = [...aimingAxes(move.rig, move.axes)].filter((axis) => move.axes[axis]?.type === "rotary");
  if (root?.kind !== "map" || aiming.length === 0) return undefined;
  const instant = trajectory.createInstant();
  trajectory.at(leavesAt(move.keys[key]), instant);
  const fields = aiming.map((axis) => {
    const { name, type } = move.axes[axis];
    return [name, storedText(valueOfAxis(instant.value[axis], axis), axisDimension(type, 0), "")] as const;
  });
  const near = entryOf(root, "near");
  const map = valueOf(near?.value);
  if (near && (map?.kind !== "map" || near.value !== map)) return undefined;
  if (map?.kind === "map") {
    return fieldEdits(
      document,
      map,
      fields.map(([name, value]) => ({ kind: "set", name, value })),
    );
  }
  const keys = entryOf(root, "keys");
  if (!keys) return undefined;
  const text = `${tree.format === "json" ? '"near"' : "near"}: ${flowMap(tree, fields)}`;
  const isFlow = root.flow || tree.format === "json";
  const gap = /\r?\n[ \t]*$/.exec(document.text.slice(0, keys.start))?.[0] ?? "";
  const between = isFlow ? `,${gap === "" ? " " : gap}` : document.text.includes("\r\n") ? "\r\n" : "\n";
  return [{ span: { start: keys.start, end: keys.start }, text: text + between }];
}
