import * as z from "zod";
import type { Dimension } from "../base/dimension.ts";
import type { Refusal } from "../base/parsed.ts";
import { parseRate, type Rate } from "../base/rate.ts";
import { DIMENSIONS } from "../base/unit-table.ts";
import { parseQuantity } from "../base/units.ts";
import { withFacts, type NameKind, type ReferenceKind, type ScalarFacts } from "./facts.ts";

/** A number with its unit as written, for a dimension that only its axis knows. */
export type Written = number | string;

/** Bounds of a number in the unit that a bare number counts in. */
export interface Bounds {
  /** Least value that is taken. */
  readonly from?: number;
  /** Greater than this. */
  readonly above?: number;
  readonly to?: number;
}

const writtenSchema = () => z.union([z.number(), z.string()]);

/** Adds a refusal to zod's issues so that the reader gets its code and cure back. */
function report(ctx: z.RefinementCtx, refusal: Omit<Refusal, "ok">): never {
  const { code, message, cure } = refusal;
  ctx.addIssue({ code: "custom", message, params: { code, cure } });
  return z.NEVER;
}

/** Nearer than this to a bound that excludes itself is on it: no lens, axis or mass is that small. */
const LEAST = 1e-9;

/** The sentence that says how a number leaves its bounds, or `undefined` inside them. */
function outside(value: number, { from, above, to }: Bounds, unit: string): string | undefined {
  const say = (bound: number): string => (unit === "" || bound === 0 ? `${bound}` : `${bound} ${unit}`);
  if (above !== undefined && value < above + LEAST) return `it must be more than ${say(above)}`;
  if (from !== undefined && value < from) return `it must be ${say(from)} or more`;
  if (to !== undefined && value > to) return `it must be ${say(to)} or less`;
  return undefined;
}

/** A quantity, in SI once read. */
export function quantity(dimension: Dimension, bounds: Bounds = {}) {
  const { value: size } = parseOk(parseQuantity(1, dimension));
  const schema = writtenSchema().transform((written, ctx): number => {
    const parsed = parseQuantity(written, dimension);
    if (!parsed.ok) return report(ctx, parsed);
    const fault = outside(parsed.value / size, bounds, DIMENSIONS[dimension].bare);
    if (fault !== undefined)
      return report(ctx, { code: "bad-number", message: `\`${written}\` is not taken: ${fault}` });
    return parsed.value;
  });
  return withFacts(schema, { scalar: { type: "quantity", dimension } });
}

function parseOk(parsed: ReturnType<typeof parseQuantity>): { readonly value: number } {
  return parsed.ok ? parsed : { value: 1 };
}

const kept = (scalar: ScalarFacts) => withFacts(writtenSchema(), { scalar });

/** A value of an axis, or its speed, acceleration, jerk: kept as written until the axis is known. */
export const axisQuantity = (order: 0 | 1 | 2 | 3 = 0) => kept({ type: "axis-quantity", order });

/** A follower's ratio, kept as written until both axes are known. */
export const ratio = () => kept({ type: "ratio" });

/** A time in seconds, frames or timecode, kept as written until the rate is known. */
export const time = () => kept({ type: "time" });

/** A timecode label, kept as written until the rate is known. */
export const label = () => kept({ type: "label" });

/** Any number with any unit. */
export const writtenNumber = () => kept({ type: "written" });

/** Frames per second. */
export function rate() {
  const schema = writtenSchema().transform((written, ctx): Rate => {
    const parsed = parseRate(written);
    const message = `\`${written}\` is not a frame rate: 23.976, 24, 25, 29.97, 29.97df, 30, 50, 59.94, 59.94df, 60 or another whole number`;
    return parsed ?? report(ctx, { code: "bad-number", message });
  });
  return withFacts(schema, { scalar: { type: "rate" } });
}

/** An f-number, written `2.8` or `f/2.8`. */
export function fNumber() {
  const schema = writtenSchema().transform((written, ctx): number => {
    const bare = typeof written === "string" ? written.replace(/^\s*[fFT]\/?\s*(?=[\d.])/, "") : written;
    const parsed = parseQuantity(bare, "number");
    if (!parsed.ok) return report(ctx, parsed);
    const fault = outside(parsed.value, { above: 0 }, "");
    if (fault !== undefined)
      return report(ctx, { code: "bad-number", message: `\`${written}\` is not taken: ${fault}` });
    return parsed.value;
  });
  return withFacts(schema, { scalar: { type: "quantity", dimension: "number" } });
}

const textual = () => z.union([z.string(), z.number()]).transform((written) => String(written).trim());

/** Free text. */
export const text = () => withFacts(textual(), { scalar: { type: "text" } });

const NAME = /^[^\s.,=#:{}[\]"'`][^.,=#:{}[\]"'`]*$/u;

/** What a name may not be, or `undefined` for a good one. */
export function nameFault(name: string): string | undefined {
  if (name === "__proto__") return "this word is kept for the program";
  if (NAME.test(name)) return undefined;
  return "a name is not empty and holds none of the marks . , = # : { } [ ] and quotes";
}

/** A name that this field defines or refers to. */
export function name(kind: NameKind, role: "definition" | "use" = "use") {
  const schema = textual().transform((written, ctx): string => {
    const fault = nameFault(written);
    return fault === undefined ? written : report(ctx, { code: "wrong-type", message: `\`${written}\`: ${fault}` });
  });
  return withFacts(schema, { scalar: { type: "name", kind, role } });
}

/** The name of a body, which may be that of its link in a file of another kind: any text. */
export const bodyName = () => withFacts(textual(), { scalar: { type: "name", kind: "body", role: "use" } });

/** A file, relative to the document's own folder, parts joined by `/`. */
export const reference = (to: ReferenceKind) => withFacts(textual(), { scalar: { type: "reference", to } });

/** A key of a move, `lid.move.yaml#top`. */
export const moveKey = () => withFacts(textual(), { scalar: { type: "move-key" } });

/** A quantity of the motion, such as `pan.speed`. */
export const measure = () => withFacts(textual(), { scalar: { type: "measure" } });

/** One of a few words. */
export function word<const W extends Readonly<Record<string, string>>>(words: W) {
  const known = Object.keys(words) as (keyof W & string)[];
  return withFacts(z.enum(known as [keyof W & string, ...(keyof W & string)[]]), { scalar: { type: "word", words } });
}

export const flag = () => withFacts(z.boolean(), { scalar: { type: "flag" } });

/** A whole number. */
export function count(from: number, to: number) {
  const schema = z.union([z.number(), z.string()]).transform((written, ctx): number => {
    const value = typeof written === "number" ? written : Number(written.replace(/\s*px$/, "").trim() || Number.NaN);
    if (Number.isInteger(value) && from <= value && value <= to) return value;
    const code = Number.isFinite(value) ? "bad-number" : "wrong-type";
    return report(ctx, { code, message: `\`${written}\` is not a whole number from ${from} to ${to}` });
  });
  return withFacts(schema, { scalar: { type: "count" } });
}

/** The first field of each document: which version of this language it is written in. */
export const version = () => withFacts(z.literal(1), { scalar: { type: "version" } });
