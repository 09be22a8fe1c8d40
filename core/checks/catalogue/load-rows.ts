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
    doc: "The counterweight leaves more of the static moment about its axis than its `tolerance`: in the move, or anywhere from end to end of that axis. It takes the rig's `masses` and what the camera weighs; what follows the axis, as a head that a parallelogram keeps upright, goes along.",
    cure: "Change the counterweight to the mass that the message names.",
    severity: "warning",
  },
  "tip-over": {
    title: "The rig may tip over",
    doc: "With its accelerations and its lean, the point through which the rig presses on the floor (the zero-moment point of its `masses`) leaves less of the way from the middle of its `support` to an edge than the `margin`; beyond the edge it is an error, before it a warning. Braking harder than the move does, as a stop may, is not reckoned with.",
    cure: "Slow the move down, keep the arm over the base, or widen the support or put weight on it.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
