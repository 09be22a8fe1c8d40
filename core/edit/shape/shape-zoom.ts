import { formatQuantity } from "../../base/units.ts";
import { entryOf } from "../../syntax/tree.ts";
import { checked, fieldEdits } from "../field-edits.ts";
import { keyMap } from "../key-item.ts";
import { storedText } from "../neighbour-units.ts";
import { putNumber } from "./put-number.ts";
import { keyLabel, repeated, type ShapedMove, type Shaping } from "./shaped.ts";

/** How finely focal lengths are written [m]. */
const STEP = 1e-4;

/** Gives a key another focal length [m], as far as its lens zooms. */
export function shapeZoom(document: ShapedMove, key: number, focal: number): Shaping {
  const { move, file } = document;
  const { low, high } = move.optics.focal;
  const label = keyLabel(move, key);
  const map = keyMap(document, key);
  if (low === high) {
    return { refusal: `\`${move.optics.lensName}\` has ${formatQuantity(low, "length")} only: it does not zoom` };
  }
  if (!map) return repeated(label);
  const value = Math.min(Math.max(focal, low), high);
  const end = formatQuantity(value, "length");
  const stop = value === focal ? {} : { stop: { words: `\`${move.optics.lensName}\` ends at ${end}` } };
  const says = `${label} zooms to ${end}`;
  const entry = entryOf(map, "zoom");
  if (!entry) {
    const made = checked(document, fieldEdits(document, map, [added(value)]));
    return "refusal" in made ? made : { file, edits: made.edits, says, ...stop };
  }
  const put = putNumber(document, entry.value, value, "length", STEP);
  return put ? { file, edits: put.edits, says, ...stop } : repeated(`\`zoom\` of ${label}`);
}

const added = (focal: number) =>
  ({ kind: "set", name: "zoom", value: storedText(focal, "length", " mm", STEP) }) as const;
