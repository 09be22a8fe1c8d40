import * as z from "zod";
import { facts, type Facts, type ScalarFacts } from "./facts.ts";

/** The tables as the reader, the hover and the completion walk them: made once from the zod schemas. */
export type Shape = MapShape | RecordShape | ListShape | TupleShape | EitherShape | ScalarShape;

export interface MapShape {
  readonly kind: "map";
  readonly fields: ReadonlyMap<string, FieldShape>;
}

export interface FieldShape {
  readonly name: string;
  readonly shape: Shape;
  readonly required: boolean;
  readonly doc: string;
  /** What holds when it is left out, as it would be written. */
  readonly fallback?: string;
}

/** A map with free names, or with names of a fixed list. */
export interface RecordShape {
  readonly kind: "record";
  readonly item: Shape;
  readonly names: Facts["names"];
  readonly known?: readonly string[];
}

export interface ListShape {
  readonly kind: "list";
  readonly item: Shape;
}

export interface TupleShape {
  readonly kind: "tuple";
  readonly items: readonly Shape[];
  /** Its parts in words: `[x, y, z]`. */
  readonly parts: string;
  /** True for a direction, which may not be all zeros. */
  readonly direction: boolean;
}

export interface EitherShape {
  readonly kind: "either";
  readonly options: readonly Shape[];
  /** `a length, or [shortest, longest] of a zoom`. */
  readonly choice: string;
}

export interface ScalarShape {
  readonly kind: "scalar";
  readonly schema: z.ZodType;
  readonly facts: ScalarFacts;
}

/** The shape of a schema that was made by the constructors of this folder. */
export function shapeOf(schema: z.core.$ZodType): Shape {
  const known = facts.get(schema as z.ZodType) ?? {};
  if (schema instanceof z.ZodOptional) return shapeOf(schema.unwrap());
  if (known.scalar) return { kind: "scalar", schema: schema as z.ZodType, facts: known.scalar };
  if (schema instanceof z.ZodObject) return mapShape(schema);
  if (schema instanceof z.ZodArray) return { kind: "list", item: shapeOf(schema.element) };
  if (schema instanceof z.ZodTuple) {
    const items = schema.def.items.map(shapeOf);
    return { kind: "tuple", items, parts: known.parts ?? "a list", direction: known.direction === true };
  }
  if (schema instanceof z.ZodRecord) {
    const keys = schema.keyType as z.ZodType;
    const item = shapeOf(schema.valueType);
    const list = keys instanceof z.ZodEnum ? keys.options.map(String) : undefined;
    return { kind: "record", item, names: known.names, ...(list ? { known: list } : {}) };
  }
  if (schema instanceof z.ZodUnion) {
    return { kind: "either", options: schema.options.map(shapeOf), choice: known.choice ?? "another value" };
  }
  throw new TypeError("A field's schema was not made by the constructors of core/schema.");
}

function mapShape(schema: z.ZodObject): MapShape {
  const fields = Object.entries(schema.shape).map(([name, field]): [string, FieldShape] => {
    const { doc = "", fallback } = facts.get(field as z.ZodType) ?? {};
    const required = !(field instanceof z.ZodOptional);
    const shape = shapeOf(field);
    return [name, fallback === undefined ? { name, shape, required, doc } : { name, shape, required, doc, fallback }];
  });
  return { kind: "map", fields: new Map(fields) };
}
