import { trimmed } from "../../base/units.ts";
import type { Vec2 } from "../../base/vec3.ts";
import { deliveredFraming } from "../../lens/project.ts";
import { entryOf, type MapNode, type TreeNode } from "../../syntax/tree.ts";
import { checked, fieldEdits, flowList, flowMap, type Rewriting } from "../field-edits.ts";
import { aimHolds } from "../key-aimed.ts";
import { keyMap } from "../key-item.ts";
import { valueText } from "../value-text.ts";
import { putNumbers } from "./put-number.ts";
import { keyLabel, repeated, type ShapedMove, type Shaping } from "./shaped.ts";

/** How finely framings are written. */
const DECIMALS = 3;

/** Puts what is aimed at elsewhere in the captured picture at a key: shares from its left and its top, 0 to 1. */
export function shapeFraming(document: ShapedMove, key: number, wanted: Vec2): Shaping {
  const { move, file } = document;
  const label = keyLabel(move, key);
  if (!aimHolds(move, key)) {
    return { refusal: `nothing is aimed at from ${label} on: give it an \`aim\` first` };
  }
  const at = wanted.map((share) => Math.min(Math.max(share, 0), 1)) as unknown as Vec2;
  const isOut = at.some((share, i) => share !== wanted[i]);
  const stop = isOut ? { stop: { words: "the captured picture ends there", at } } : {};
  const made = written(document, key, at);
  if ("refusal" in made) return made;
  const says = `${label} frames it at ${at.map((share) => trimmed(share, DECIMALS)).join(", ")}`;
  return { file, edits: made.edits, says, ...stop };
}

function written(document: ShapedMove, key: number, at: Vec2): Rewriting {
  const { move, tree } = document;
  const label = keyLabel(move, key);
  const map = keyMap(document, key);
  if (!map) return repeated(label);
  const aim = entryOf(map, "aim");
  const list = flowList(
    tree,
    at.map((share) => trimmed(share, DECIMALS)),
  );
  if (!aim) {
    const value = flowMap(tree, [["framing", list]]);
    return checked(document, fieldEdits(document, map, [{ kind: "set", name: "aim", value }]));
  }
  if (aim.value?.kind === "scalar") {
    const target = valueText(document, aim.value);
    if (target === undefined) return repeated(`\`aim\` of ${label}`);
    const value = flowMap(tree, [
      ["at", target],
      ["framing", list],
    ]);
    return checked(document, fieldEdits(document, map, [{ kind: "set", name: "aim", value }]));
  }
  if (aim.value?.kind !== "map") return repeated(`\`aim\` of ${label}`);
  return inFields(document, aim.value, at, list) ?? repeated(`\`framing\` of ${label}`);
}

/** In the fields of an aim: of the delivered crop where it is stated so, else of the captured picture. */
function inFields(document: ShapedMove, aim: MapNode, at: Vec2, list: string): Rewriting | undefined {
  const framing = entryOf(aim, "framing");
  if (!framing) {
    return checked(document, fieldEdits(document, aim, [{ kind: "set", name: "framing", value: list }]));
  }
  const delivered = framing.value?.kind === "map" ? entryOf(framing.value, "delivered") : undefined;
  const node: TreeNode | undefined = delivered ? delivered.value : framing.value;
  return putNumbers(
    document,
    node,
    delivered ? deliveredFraming(document.move.optics, document.move.deliver, at) : at,
    "number",
  );
}
