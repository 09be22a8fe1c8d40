import { cameraDocument } from "./camera-fields.ts";
import { configDocument } from "./config-fields.ts";
import { moveDocument } from "./move-fields.ts";
import { rigDocument } from "./rig-fields.ts";
import { setDocument } from "./set-fields.ts";
import { shapeOf, type MapShape } from "./shape.ts";
import { shootDocument } from "./shoot-fields.ts";

/** The zod schema of each kind of document. */
export const SCHEMAS = {
  rig: rigDocument,
  camera: cameraDocument,
  set: setDocument,
  move: moveDocument,
  shoot: shootDocument,
  config: configDocument,
} as const;

export type SchemaKind = keyof typeof SCHEMAS;
export type SchemaOf<K extends SchemaKind> = (typeof SCHEMAS)[K];

export const SCHEMA_KINDS = Object.keys(SCHEMAS) as readonly SchemaKind[];

/** The same as shapes. */
export const SHAPES = Object.fromEntries(
  Object.entries(SCHEMAS).map(([kind, schema]) => [kind, shapeOf(schema)]),
) as unknown as Readonly<Record<SchemaKind, MapShape>>;
