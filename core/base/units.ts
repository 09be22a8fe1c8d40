import type { Dimension } from "./dimension.ts";
import { accept, refuse, type Parsed } from "./parsed.ts";
import { DIMENSIONS, UNITS, type Base, type DimensionFacts, type Unit } from "./unit-table.ts";

const NUMBER = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(.*)$/s;

interface Written {
  readonly number: number;
  /** `undefined` when bare. */
  readonly unit:
    (Pick<Unit, "times" | "over"> & { readonly powers: Readonly<Partial<Record<Base, number>>> }) | undefined;
  /** The unit's spelling; empty when bare. */
  readonly spelling: string;
}

/** Splits `-0.4 ft` into number and unit, without asking what it is for. */
function parseWritten(written: number | string): Parsed<Written> {
  if (typeof written === "number") {
    if (!Number.isFinite(written)) return refuse("bad-number", `${written} is not a finite number`);
    return accept({ number: written, unit: undefined, spelling: "" });
  }
  const text = written.trim();
  const match = NUMBER.exec(text);
  if (!match) return refuse("wrong-type", `${quote(text)} is not a number`);
  const number = Number(match[1]);
  if (!Number.isFinite(number)) return refuse("bad-number", `${quote(text)} is too large to be a number`);
  const spelling = match[2].trim();
  if (spelling === "") return accept({ number, unit: undefined, spelling });
  if (/^,\d/.test(spelling)) {
    return refuse("wrong-type", `${quote(text)} has a comma; decimals take a point`, text.replace(",", "."));
  }
  const unit = parseUnit(spelling);
  if (!unit) return refuse("wrong-unit", `${quote(text)} has the unit ${quote(spelling)}, which is not known`);
  return accept({ number, unit, spelling });
}

/** Product of unit powers: `mm/s2` is 1e-3, length 1, time -2. */
function parseUnit(spelling: string): Written["unit"] {
  const powers: Partial<Record<Base, number>> = {};
  let times = 1;
  let over = 1;
  const parts = spelling.replace(/²/g, "2").replace(/³/g, "3").split("/");
  for (let i = 0; i < parts.length; i++) {
    const match = /^\s*([^\d\s^]+)\s*(?:\^?([123]))?\s*$/.exec(parts[i]);
    if (!match) return undefined;
    const unit = unitNamed(match[1]);
    if (!unit) return undefined;
    const power = Number(match[2] ?? 1) * (i === 0 ? 1 : -1);
    times *= power > 0 ? unit.times ** power : unit.over ** -power;
    over *= power > 0 ? unit.over ** power : unit.times ** -power;
    powers[unit.base] = (powers[unit.base] ?? 0) + power;
  }
  return { times, over, powers };
}

function bareUnit({ bare }: DimensionFacts): Pick<Unit, "times" | "over"> {
  return (bare === "" ? undefined : parseUnit(bare)) ?? { times: 1, over: 1 };
}

const unitNamed = (name: string): Unit | undefined => (Object.hasOwn(UNITS, name) ? UNITS[name] : undefined);

const BASES: readonly Base[] = ["length", "angle", "time", "mass", "share", "pixels", "power", "energy"];

const samePowers = (a: Partial<Record<Base, number>>, b: Partial<Record<Base, number>>): boolean =>
  BASES.every((base) => (a[base] ?? 0) === (b[base] ?? 0));

/**
 * A written quantity in SI: m, rad, s, kg, W, J, px, a share as 0..1. A bare number counts in `DIMENSIONS[..].bare`.
 * Frames (`60 f`) and timecode are not read here: see `parseTime`.
 */
export function parseQuantity(written: number | string, dimension: Dimension): Parsed<number> {
  const parts = parseWritten(written);
  const facts = DIMENSIONS[dimension];
  if (!parts.ok) {
    return { ...parts, message: `${parts.message}; ${expected(facts)} is expected` };
  }
  const { number, unit, spelling } = parts.value;
  if (!unit) {
    const { times, over } = bareUnit(facts);
    return within((number * times) / over, written, dimension);
  }
  // A plain number may be a quotient of like quantities, such as a slip of 1.5 mm/m, or a percentage.
  const plain = dimension === "number" && samePowers(unit.powers, DIMENSIONS.share.powers);
  if (plain || samePowers(unit.powers, facts.powers))
    return within((number * unit.times) / unit.over, written, dimension);
  const is = describeUnit(unit.powers, spelling);
  return refuse("wrong-unit", `${quote(String(written).trim())} is ${is}; ${expected(facts)} is expected`);
}

/**
 * A follower's ratio in SI: units of the follower for one unit of the leader. A bare ratio holds between like types
 * only; between unlike ones the unit must be written, as in `2 deg/mm`.
 */
export function parseRatio(
  written: number | string,
  follower: "length" | "angle",
  leader: "length" | "angle",
): Parsed<number> {
  const parts = parseWritten(written);
  if (!parts.ok) return parts;
  const { number, unit } = parts.value;
  const example = follower === "angle" ? "2 deg/mm" : "0.5 mm/deg";
  const want = follower === leader ? "a plain number" : `a ratio with its unit, such as ${quote(example)},`;
  const said = quote(String(written).trim());
  if (!unit) {
    if (follower === leader) return finite(number, written);
    return refuse("wrong-unit", `${said} has no unit, but the axes are of unlike types; ${want} is expected`);
  }
  const powers = { [follower]: 1, [leader]: follower === leader ? 0 : -1 };
  const wanted = follower === leader ? {} : powers;
  if (!samePowers(unit.powers, wanted))
    return refuse("wrong-unit", `${said} does not fit the axes; ${want} is expected`);
  return finite((number * unit.times) / unit.over, written);
}

/** Largest SI value that is taken, far beyond any rig, so that products of several stay finite. */
export const MAX_MAGNITUDE = 1e9;

/** A value in SI, refused beyond what is taken of its dimension. */
export function within(value: number, written: number | string, dimension: Dimension): Parsed<number> {
  const facts = DIMENSIONS[dimension];
  const { most, bare } = facts;
  if (most === undefined) return finite(value, written);
  const { times, over } = bareUnit(facts);
  if (Math.abs(value) <= (most * times) / over) return accept(value);
  return refuse("bad-number", `${quote(String(written))} is larger than anything of a rig: ${most} ${bare} at most`);
}

function finite(value: number, written: number | string): Parsed<number> {
  if (Math.abs(value) <= MAX_MAGNITUDE) return accept(value);
  return refuse("bad-number", `${quote(String(written))} is larger than anything of a rig`);
}

/** `a length (m, cm, mm, in or ft)`. */
function expected(facts: DimensionFacts): string {
  const { word, spellings } = facts;
  if (spellings.length === 0) return word;
  const last = spellings[spellings.length - 1];
  const list = spellings.length === 1 ? last : `${spellings.slice(0, -1).join(", ")} or ${last}`;
  return `${word} (${list})`;
}

function describeUnit(powers: Partial<Record<Base, number>>, spelling: string): string {
  for (const facts of Object.values(DIMENSIONS)) {
    if (samePowers(facts.powers, powers)) return facts.word;
  }
  return `in ${quote(spelling)}`;
}

const quote = (text: string): string => `\`${text.length > 60 ? `${text.slice(0, 57)}...` : text}\``;

/** One unit for each dimension, for figures that programs read: metres, degrees, seconds, kilograms, px, %. */
export function displayUnit(dimension: Dimension): { readonly unit: string; readonly size: number } {
  if (dimension === "share") return { unit: "%", size: 0.01 };
  const { times, over } = bareUnit(DIMENSIONS[dimension]);
  return { unit: DIMENSIONS[dimension].bare, size: times / over };
}

/** SI value in the dimension's display unit: pi/2 of an angle is 90. */
export function toDisplay(si: number, dimension: Dimension): number {
  return si / displayUnit(dimension).size;
}

/**
 * A quantity as people read it, in the display unit, with digits that suit set work: 0.1 mm, 0.01 deg, 1 ms, 0.1 %.
 * A length below 100 mm is shown in mm.
 */
export function formatQuantity(si: number, dimension: Dimension): string {
  if (!Number.isFinite(si)) return si > 0 ? "unbounded" : si < 0 ? "-unbounded" : "undefined";
  if (dimension === "length" && Math.abs(si) < 0.1) return `${trimmed(si * 1000, 1)} mm`;
  const { unit, size } = displayUnit(dimension);
  const number = trimmed(si / size, DIGITS[dimension] ?? 3);
  return unit === "" ? number : `${number} ${unit}`;
}

const DIGITS: Readonly<Partial<Record<Dimension, number>>> = {
  length: 4,
  angle: 2,
  share: 1,
  pixels: 1,
  "length-speed": 4,
  "length-accel": 4,
  "length-jerk": 4,
  "angle-speed": 2,
  "angle-accel": 2,
  "angle-jerk": 2,
};

/** At most `digits` decimals, no trailing zeros, no minus before zero. */
export function trimmed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  const short = text.includes(".") ? text.replace(/\.?0+$/, "") : text;
  return short === "-0" ? "0" : short;
}
