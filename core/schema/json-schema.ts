import * as z from "zod";
import { DIMENSIONS } from "../base/unit-table.ts";
import { SCHEMAS, type SchemaKind } from "./documents.ts";
import { expectation } from "./expectation.ts";
import { facts } from "./facts.ts";
import { shapeOf } from "./shape.ts";

const TITLES: Readonly<Record<SchemaKind, string>> = {
  rig: "Movewright rig",
  camera: "Movewright camera",
  set: "Movewright set",
  move: "Movewright move",
  shoot: "Movewright shoot",
  config: "Movewright workspace settings",
};

type JsonSchema = Record<string, unknown>;

/**
 * JSON Schema (2020-12) of a document as it is written, for other tools. It knows fields, forms and words; that a unit fits
 * and a name exists is the program's own to say.
 */
export function jsonSchema(kind: SchemaKind): JsonSchema {
  const schema = z.toJSONSchema(SCHEMAS[kind], {
    io: "input",
    unrepresentable: "any",
    override: ({ zodSchema, jsonSchema }) => describe(zodSchema, jsonSchema as JsonSchema),
  }) as JsonSchema;
  const { $schema, ...rest } = schema;
  return { $schema, title: TITLES[kind], ...rest };
}

function describe(schema: z.core.$ZodType, out: JsonSchema): void {
  const known = facts.get(schema as unknown as z.ZodType);
  if (!known) return;
  const sentences = [known.doc, takes(schema)].filter((sentence) => sentence !== undefined);
  if (known.fallback !== undefined) sentences.push(`Left out: ${known.fallback}.`);
  if (sentences.length > 0) out.description = sentences.join(" ");
}

/** What a single value takes, in words; maps and lists show it by themselves. */
function takes(schema: z.core.$ZodType): string | undefined {
  const shape = shapeOf(schema);
  if (shape.kind !== "scalar" && shape.kind !== "tuple" && shape.kind !== "either") return undefined;
  const words = expectation(shape);
  const dimension = shape.kind === "scalar" && shape.facts.type === "quantity" ? shape.facts.dimension : undefined;
  const bare = dimension ? DIMENSIONS[dimension].bare : "";
  return `Takes ${words}${bare === "" ? "" : `; a bare number is in ${bare}`}.`;
}
