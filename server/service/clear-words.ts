import { formatQuantity } from "../../core/base/units.ts";
import { writeValue } from "../../core/edit/rounded-value.ts";
import type { StatedValue } from "./clear-values.ts";
import type { Near } from "./clear-ground.ts";

/** How near the thing comes then, and with which part [m]. */
export interface Reach {
  readonly part: string;
  readonly distance: number;
}

/** `Set lift at key 2 from 12 to 14.2 deg: matte-box then stays 52 mm from teapot-spout`. */
export function clearTitle(
  stated: StatedValue,
  value: number,
  own: Near,
  limit: number,
  reach: Reach | undefined,
): string {
  const { what, style } = stated;
  const unit = style.unit.trim() || { length: "m", angle: "deg", number: "" }[stated.dimension];
  const bare = { ...style, unit: "" };
  const from = writeValue(stated.value, { ...bare, decimals: style.decimals + 1 });
  const change = `Set ${what} from ${from} to ${`${writeValue(value, bare)} ${unit}`.trim()}`;
  return `${change}: ${outcome(own, limit, reach)}`;
}

/** What is so then. Where people are near it is told as what the plan says: no title may sound like leave to go ahead. */
function outcome({ code, part, target }: Near, limit: number, reach: Reach | undefined): string {
  if (code === "in-view") return `${part} is then out of the picture`;
  if (limit <= 0) return `${part} then no longer reaches into ${target}`;
  // It may be nearer at another key, which is told there.
  if (!reach) return withCaution(code, `${part} then keeps the clearance of ${length(limit)} from ${target} here`);
  const stays = `${reach.part} then stays ${length(reach.distance)}`;
  return withCaution(code, code === "floor" ? `${stays} above the floor` : `${stays} from ${target}`);
}

const length = (value: number): string => formatQuantity(value, "length");

const withCaution = (code: Near["code"], said: string): string =>
  code === "people" ? `${said} as planned, which is no assessment of safety` : said;
