import * as z from "zod";
import { DOCUMENT_CODES, MOTION_CODES } from "../base/finding-code.ts";
import { optional, required } from "./facts.ts";
import { version, word } from "./field-types.ts";
import { fields, noteField } from "./shared-fields.ts";

const codes = [...DOCUMENT_CODES, ...MOTION_CODES] as const;

/** Fields of `movewright.config.yaml`, which is for its folder and all below. */
export const configDocument = fields({
  config: required(version(), "Says that this document is a config, in version 1 of the language."),
  severity: optional(
    z.partialRecord(
      z.enum(codes),
      word({
        error: "Fails the check.",
        warning: "Is shown as a warning.",
        information: "Is shown as information.",
        hint: "Is shown as a hint.",
        off: "Is not shown.",
      }),
    ),
    "How severe each finding is in this folder and all below, by its code. What a config in a folder below says of a code holds there. An allowed finding stays a hint; what was not read, and a fault of the program, stay errors.",
    "the catalogue's",
  ),
  note: noteField(),
});
