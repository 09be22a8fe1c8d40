import type { Dimension } from "../base/dimension.ts";
import type { Rate } from "../base/rate.ts";
import { formatTimecode, parseTime } from "../base/timecode.ts";
import { DIMENSIONS } from "../base/unit-table.ts";
import { parseQuantity } from "../base/units.ts";
import { spelledFor } from "../checks/add-field.ts";
import { shortestDecimal } from "./decimal.ts";
import { unitOf } from "./neighbour-units.ts";

/** A quantity as written, and how it reads: a time of a move counts frames too, and its labels from frame `offset`. */
export type Quantity =
  | { readonly kind: "quantity"; readonly dimension: Dimension }
  | { readonly kind: "time"; readonly rate: Rate; readonly offset: number };

/** How exactly a converted value says the same [SI]. */
export const CONVERTED = 5e-10;

/** Another way to write a value. */
export interface Conversion {
  /** What it counts in then: `mm`, `frames`, `timecode`. */
  readonly unit: string;
  readonly written: string;
}

/** The other units that a written quantity can stand in, with the value in each; it says the same to 1e-9 of SI. */
export function conversionsOf(written: string | number, quantity: Quantity): readonly Conversion[] {
  return unitsOf(quantity).flatMap((unit) => {
    const converted = convert(written, quantity, unit);
    return converted === undefined || converted === String(written) ? [] : [{ unit, written: converted }];
  });
}

const FRAMES = "frames";
const TIMECODE = "timecode";

function unitsOf(quantity: Quantity): readonly string[] {
  if (quantity.kind === "time") return ["s", "ms", FRAMES, TIMECODE];
  return DIMENSIONS[quantity.dimension].spellings;
}

/** A written quantity in another unit; `undefined` where it stands in that one, or cannot be said in it. */
export function convert(written: string | number, quantity: Quantity, unit: string): string | undefined {
  const { kind } = quantity;
  const read = (text: string | number) =>
    kind === "time" ? parseTime(text, quantity.rate, quantity.offset) : parseQuantity(text, quantity.dimension);
  const parsed = read(written);
  if (!parsed.ok || standsIn(written, quantity, unit)) return undefined;
  const isSame = (text: string): boolean => {
    const again = read(text);
    return again.ok && Math.abs(again.value - parsed.value) <= CONVERTED;
  };
  if (kind === "time" && (unit === FRAMES || unit === TIMECODE)) {
    const frame = Math.round((parsed.value * quantity.rate.num) / quantity.rate.den);
    if (unit === TIMECODE && quantity.offset + frame < 0) return undefined;
    const text = unit === FRAMES ? `${frame} f` : formatTimecode(quantity.offset + frame, quantity.rate);
    return isSame(text) ? text : undefined;
  }
  const one = parseQuantity(`1 ${unit}`, kind === "time" ? "time" : quantity.dimension);
  if (!one.ok) return undefined;
  const number = shortestDecimal(parsed.value / one.value, (digits) => isSame(`${digits} ${unit}`));
  return number === undefined ? undefined : `${number} ${unit}`;
}

function standsIn(written: string | number, quantity: Quantity, unit: string): boolean {
  if (quantity.kind === "time" && typeof written === "string") {
    if (/^-?\d+[:;]/.test(written.trim())) return unit === TIMECODE;
    if (/f(rames?)?$/.test(written.trim())) return unit === FRAMES;
  }
  const now = unitOf(written)?.trim();
  const bare = quantity.kind === "time" ? "s" : DIMENSIONS[quantity.dimension].bare;
  return now === unit || (now === "" && unit === bare);
}

/** A converted value as it stands in a text, in the quotes that were there. Labels are put in quotes, as YAML 1.1 counts them. */
export function spelledAs(before: string, format: "yaml" | "json", value: string): string {
  if (format === "json") return spelledFor(true, value);
  const mark = before[0];
  if (mark === '"' || mark === "'") return mark + value + mark;
  return /[:;]/.test(value) ? `"${value}"` : value;
}
