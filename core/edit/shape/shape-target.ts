import { invertQuat, quatAbout, rotateByQuat } from "../../base/quat.ts";
import { formatQuantity } from "../../base/units.ts";
import { subtract, type Vec3 } from "../../base/vec3.ts";
import { entryOf } from "../../syntax/tree.ts";
import { putNumbers } from "./put-number.ts";
import { repeated, type ShapedMove, type Shaping } from "./shaped.ts";

/** Puts a target elsewhere in its set's document, so that it stands at a place of the set [m] when a key comes. */
export function shapeTarget(document: ShapedMove, key: number, target: number, wanted: Vec3): Shaping {
  const { move, trajectory, origins } = document;
  const { name, on, follow, origin } = move.targets[target];
  const place = origins.place(origin);
  const set = place && document.other(place.file);
  if (!place || !set) return { refusal: `\`${name}\` stands in a document that is not known here` };
  if (follow) return { refusal: `\`${name}\` moves by itself: change its \`follow\` in the set` };
  let at = wanted;
  const table = on === undefined ? undefined : move.turntables[on];
  if (table) {
    const instant = trajectory.createInstant();
    trajectory.at(move.keys[key].time, instant);
    const axis = move.axes.findIndex(({ turntable }) => turntable === on);
    const turn = invertQuat(quatAbout(table.along, instant.value[axis] ?? 0));
    at = rotateByQuat(turn, subtract(wanted, table.at));
  }
  const fields = entryOf(entryOf(set.tree.root, "targets")?.value, name)?.value;
  const put = fields?.kind === "map" ? putNumbers(set, entryOf(fields, "at")?.value, at, "length") : undefined;
  if (!put) return repeated(`the place of \`${name}\``);
  const where = table ? ` on \`${table.name}\`` : "";
  const says = `\`${name}\`${where} at ${put.values.map((value) => formatQuantity(value, "length")).join(", ")}`;
  return { file: place.file, edits: put.edits, says };
}
