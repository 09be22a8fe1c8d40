import type { CatalogueRow } from "./row.ts";

/** Focus between what is near and what is far. */
export const FOCUS_ROWS = {
  "focus-speed": {
    title: "A lens motor is too fast",
    doc: "Focus, iris or zoom has to turn faster, or change its speed faster, than the lens's motor can, on the motor's own scale.",
    cure: "Give the segment more time, or rack between targets that are nearer to each other.",
    severity: "error",
  },
  "soft-subject": {
    title: "The subject is out of focus",
    doc: "What the move aims at lies nearer or farther than the depth of field about the focused distance reaches.",
    cure: "Focus on the subject, or close the iris.",
    severity: "warning",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
