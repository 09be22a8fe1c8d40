import { formatQuantity } from "../../core/base/units.ts";
import { writeValue } from "../../core/edit/rounded-value.ts";
import type { StatedValue } from "./clear-values.ts";
import type { Near } from "./clear-ground.ts";

/** `Set lift at key 2 from 12 to 14.2 deg: matte-box then stays 52 mm from teapot-spout`. */
export function clearTitle(
  stated: StatedValue,
  value: number,
  own: Near,
  limit: number,
  reach: { readonly part: string; readonly distance: number } | undefined,
): string {
  const { what, style } = stated;
  const unit = style.unit.trim() || { length: "m", angle: "deg", number: "" }[stated.dimension];
  const bare = { ...style, unit: "" };
  const from = writeValue(stated.value, { ...bare, decimals: style.decimals + 1 });
  const change = `Set ${what} from ${from} to ${`${writeValue(value, bare)} ${unit}`.trim()}`;
  return `${change}: ${outcome(own, limit, reach)}`;
}

/** What is so then. Where people are near it is told as what the plan says: no title may sound like leave to go ahead. */
function outcome({ code, part, target }: Near, limit: number, reach: Parameters<typeof clearTitle>[4]): string {
  if (code === "in-view") return `${part} is then out of the picture`;
  const name = reach?.part ?? part;
  if (limit <= 0) return `${part} then no longer reaches into ${target}`;
  const distance = reach ? formatQuantity(reach.distance, "length") : `at least ${formatQuantity(limit, "length")}`;
  if (code === "floor") return `${name} then stays ${distance} above the floor`;
  const stays = `${name} then stays ${distance} from ${target}`;
  return code === "people" ? `${stays} as planned, which is no assessment of safety` : stays;
}
