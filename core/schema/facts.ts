import * as z from "zod";
import type { Dimension } from "../base/dimension.ts";

/** Kinds of names that documents define and refer to. */
export const NAME_KINDS = ["axis", "target", "lens", "turntable", "mark", "key", "pass", "body"] as const;
export type NameKind = (typeof NAME_KINDS)[number];

/** Documents that a field may name a file of. */
export type ReferenceKind = "rig" | "camera" | "set" | "move" | "urdf" | "mesh" | "plate";

/** What the tables know of a schema beyond what zod keeps. */
export interface Facts {
  readonly doc?: string;
  /** The default as an operator would write it. */
  readonly fallback?: string;
  readonly scalar?: ScalarFacts;
  /** For a list of fixed length: its parts, such as `[x, y, z]`. */
  readonly parts?: string;
  /** For a list of numbers that is a direction. */
  readonly direction?: true;
  /** For a map with free names: what its names are. */
  readonly names?: { readonly kind: NameKind; readonly role: "definition" | "use" };
  /** For a choice: how to say it in a message. */
  readonly choice?: string;
}

export type ScalarFacts =
  | { readonly type: "quantity"; readonly dimension: Dimension }
  /** Unit by the type of the axis: its value (0), speed (1), acceleration (2), jerk (3). */
  | { readonly type: "axis-quantity"; readonly order: 0 | 1 | 2 | 3 }
  | { readonly type: "ratio" }
  /** Seconds, frames or a timecode label. */
  | { readonly type: "time" }
  | { readonly type: "label" }
  | { readonly type: "rate" }
  | { readonly type: "written" }
  | { readonly type: "text" }
  | { readonly type: "name"; readonly kind: NameKind; readonly role: "definition" | "use" }
  | { readonly type: "reference"; readonly to: ReferenceKind }
  | { readonly type: "move-key" }
  | { readonly type: "measure" }
  | { readonly type: "word"; readonly words: Readonly<Record<string, string>> }
  | { readonly type: "flag" }
  | { readonly type: "count" }
  | { readonly type: "version" };

/** Facts by schema; filled while the tables load, only read afterwards. A copy of a schema inherits its facts. */
export const facts = z.registry<Facts>();

/** The schema itself, with facts. */
export function withFacts<S extends z.ZodType>(schema: S, known: Facts): S {
  facts.add(schema, known);
  return schema;
}

/** A field that must be there. */
export function required<S extends z.ZodType>(schema: S, doc: string): S {
  return withFacts(schema.clone() as S, { ...facts.get(schema), doc });
}

/** A field that may be left out; `fallback` says what then holds, as it would be written. */
export function optional<S extends z.ZodType>(schema: S, doc: string, fallback?: string): z.ZodOptional<S> {
  return withFacts(schema.optional(), fallback === undefined ? { doc } : { doc, fallback });
}
