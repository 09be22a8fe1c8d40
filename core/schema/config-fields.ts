import { z } from "zod";
import { DOCUMENT_CODES, MOTION_CODES } from "../base/finding-code.ts";
import { optional } from "./facts.ts";
import { word } from "./field-types.ts";
import { fields } from "./shared-fields.ts";

const codes = [...DOCUMENT_CODES, ...MOTION_CODES] as const;

/** Fields of `movewright.config.yaml`, which is for its folder and all below. Nothing applies it yet. */
export const configDocument = fields({
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
    "How severe each finding is in this workspace, by its code. It is not applied yet.",
    "the catalogue's",
  ),
});
