import type { CatalogueRow } from "./row.ts";

/** The day of a shoot, and how well passes repeat. */
export const SHOOT_ROWS = {
  match: {
    title: "Pictures that must match do not",
    doc: "Passes differ from the first one by more than `tolerance: match`, or the pictures on both sides of a cut, of the target and of what is around it, lie further apart than the shoot's `match` allows: by framing, place, direction, roll or focal length.",
    cure: "Measure in again after the passes that the message names, or bring the keys together.",
    severity: "warning",
  },
  power: {
    title: "The battery does not last",
    doc: "The takes of a shoot, with set-ups, waits and ways back, need more energy than the rig's battery gives until it is changed: what the rig draws at rest all the time, and each axis on top while it moves. Passes of one move that need more than one battery are told at the move as information, a single take that does as an error.",
    cure: "Change the battery before the shot, or between the passes, that the message names.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
