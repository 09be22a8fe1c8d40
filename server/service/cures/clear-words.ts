import type { FindingCode } from "../../../core/base/finding-code.ts";
import { writeValue } from "../../../core/edit/rounded-value.ts";
import type { StatedValue } from "./clear-values.ts";

/** `Set lift at key 2 from 12 to 14.2 deg`. */
export function changeTitle(stated: StatedValue, value: number): string {
  const { what, style } = stated;
  const unit = style.unit.trim() || { length: "m", angle: "deg", number: "" }[stated.dimension];
  const bare = { ...style, unit: "" };
  const from = writeValue(stated.value, { ...bare, decimals: style.decimals + 1 });
  return `Set ${what} from ${from} to ${`${writeValue(value, bare)} ${unit}`.trim()}`;
}

/** What a cure is offered as: what is done, what is so then, and which warnings it brings. */
export function cureTitle(change: string, outcome: string, warnings: readonly FindingCode[]): string {
  return warnings.length === 0 ? `${change}: ${outcome}` : `${change}: ${outcome} (with a new ${warnings.join(", ")})`;
}
