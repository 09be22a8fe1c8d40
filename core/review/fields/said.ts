import type { Dimension } from "../../base/dimension.ts";
import { resolveReference } from "../../base/path.ts";
import { formatRate, type Rate } from "../../base/rate.ts";
import type { FileId } from "../../base/span.ts";
import { parseTime } from "../../base/timecode.ts";
import { DIMENSIONS } from "../../base/unit-table.ts";
import { parseQuantity, parseRatio } from "../../base/units.ts";
import { axisDimension, type AxisType } from "../../model/axis-quantity.ts";
import type { NameKind } from "../../schema/facts.ts";
import type { ScalarShape } from "../../schema/shape.ts";
import type { ScalarNode } from "../../syntax/tree.ts";

/** What a value says, whatever unit and notation it stands in. */
export type Said =
  /** SI. `shown` where its unit is none of the table's: a ratio. */
  | { readonly kind: "number"; readonly si: number; readonly dimension: Dimension; readonly shown?: string }
  /** A number without a unit, of something whose unit is not known. */
  | { readonly kind: "bare"; readonly number: number }
  | { readonly kind: "list"; readonly parts: readonly Said[] }
  | { readonly kind: "file"; readonly file: FileId; readonly text: string }
  | { readonly kind: "name"; readonly of: NameKind; readonly text: string }
  /** What a move's own test looks at: `pan.speed`. */
  | { readonly kind: "measure"; readonly text: string }
  | { readonly kind: "text"; readonly text: string };

/** What else it takes to read the values of a document. */
export interface Reading {
  readonly file: FileId;
  readonly text: string;
  readonly rate: Rate;
  /** The frame that a label of the move's start counts. */
  readonly startFrame: number;
  /** `undefined` for what is no axis, and for one that isn't known. */
  readonly axisType: (name: string) => AxisType | undefined;
}

/**
 * A single value.
 *
 * @param path Names that lead to it; an axis among them says in what it counts.
 */
export function saidScalar(reading: Reading, shape: ScalarShape, node: ScalarNode, path: readonly string[]): Said {
  const { facts, schema } = shape;
  const { value } = node;
  const plain: Said = { kind: "text", text: value === null ? "" : String(value).trim() };
  if (value === null || typeof value === "boolean") return plain;
  const parsed = schema.safeParse(value);
  if (!parsed.success) return plain;
  const number = (si: number | undefined, dimension: Dimension): Said =>
    si === undefined ? plain : { kind: "number", si, dimension };
  switch (facts.type) {
    case "quantity":
      return number(parsed.data as number, facts.dimension);
    case "axis-quantity":
      return ofAxis(reading, value, facts.order, path) ?? plain;
    case "time":
      return number(ok(parseTime(value, reading.rate, startOf(reading, path))), "time");
    case "ratio":
      return ofRatio(value) ?? plain;
    case "written":
      return inAnyUnit(value) ?? plain;
    case "rate":
      return { kind: "text", text: formatRate(parsed.data as Rate) };
    case "name":
      return { kind: "name", of: facts.kind, text: String(parsed.data) };
    case "measure":
      return { kind: "measure", text: String(parsed.data) };
    case "reference":
      return { kind: "file", file: resolveReference(reading.file, String(parsed.data)), text: String(parsed.data) };
    default:
      return { kind: "text", text: String(parsed.data) };
  }
}

const ok = (parsed: ReturnType<typeof parseTime>): number | undefined => (parsed.ok ? parsed.value : undefined);

/** A label counts from the move's first frame where it says when, and from nothing where it says how long. */
const startOf = ({ startFrame }: Reading, path: readonly string[]): number =>
  path[path.length - 1] === "at" ? startFrame : 0;

function ofAxis(
  { axisType }: Reading,
  value: string | number,
  order: 0 | 1 | 2 | 3,
  path: readonly string[],
): Said | undefined {
  const type = path.reduceRight<AxisType | undefined>((found, name) => found ?? axisType(name), undefined);
  // Of an axis that isn't known the unit says what it is.
  const types = type ? [type] : (["linear", "rotary"] as const);
  const read = types.flatMap((each): Said[] => {
    const dimension = axisDimension(each, order);
    const si = ok(parseQuantity(value, dimension));
    return si === undefined ? [] : [{ kind: "number", si, dimension }];
  });
  return read.length < 2 ? read[0] : bare(value);
}

function inAnyUnit(value: string | number): Said | undefined {
  const plain = bare(value);
  if (plain) return plain;
  for (const dimension of Object.keys(DIMENSIONS) as Dimension[]) {
    const si = ok(parseQuantity(value, dimension));
    if (si !== undefined) return { kind: "number", si, dimension };
  }
  return undefined;
}

function ofRatio(value: string | number): Said | undefined {
  for (const follower of ["length", "angle"] as const) {
    for (const leader of ["length", "angle"] as const) {
      const si = ok(parseRatio(value, follower, leader));
      if (si !== undefined) return { kind: "number", si, dimension: "number", shown: String(value).trim() };
    }
  }
  return undefined;
}

function bare(value: string | number): Said | undefined {
  const si = ok(parseQuantity(value, "number"));
  return si === undefined || /[^\d\s.eE+-]/.test(String(value)) ? undefined : { kind: "bare", number: si };
}
