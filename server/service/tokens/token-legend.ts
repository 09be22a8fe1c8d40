import type { NameKind } from "../../../core/schema/facts.ts";

/** Types of semantic tokens, in the order of the legend: those of the protocol, then our own. */
export const TOKEN_TYPES = [
  "property",
  "variable",
  "class",
  "struct",
  "interface",
  "type",
  "event",
  "namespace",
  "enumMember",
  "number",
  "string",
  "keyword",
  "unit",
] as const;
export type TokenType = (typeof TOKEN_TYPES)[number];

/** Modifiers, in the order of the legend: those of the protocol, then our own. */
export const TOKEN_MODIFIERS = ["declaration", "readonly", "outOfLimit", "unresolved"] as const;
export type TokenModifier = (typeof TOKEN_MODIFIERS)[number];

/** How names of each kind are shown. A turntable is an axis of the move that gives it values. */
export const NAME_TYPES: Readonly<Record<NameKind, TokenType>> = {
  axis: "variable",
  turntable: "variable",
  target: "class",
  lens: "struct",
  mark: "interface",
  body: "type",
  key: "event",
  pass: "namespace",
};
