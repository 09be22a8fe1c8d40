import type { CatalogueRow } from "./row.ts";

/** What the rig carries and stands on. */
export const LOAD_ROWS = {
  payload: {
    title: "The head carries too much",
    doc: "Camera, lens and attachments weigh more than the rig's `payload: limit`.",
    cure: "Take a lighter lens or leave an attachment away.",
    severity: "error",
  },
  balance: {
    title: "The arm is out of balance",
    doc: "The counterweight does not balance the static moment about the axis that carries it.",
    cure: "Change the counterweight to the mass that the message names.",
    severity: "warning",
  },
  "tip-over": {
    title: "The rig may tip over",
    doc: "With its accelerations and its lean, the point through which the rig presses on the floor comes to the edge of its `support`, or beyond.",
    cure: "Slow the move down, keep the arm over the base, or widen the support.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
