import type { CatalogueRow } from "./row.ts";

/** The day of a shoot, and how well passes repeat. */
export const SHOOT_ROWS = {
  match: {
    title: "Pictures that must match do not",
    doc: "The last pass of a move may be further from the first, in the picture of what is aimed at, than `tolerance: match`: 95 passes of 100 lie within the figure that is told, from what the rig and the set state as `repeat`. Each pass draws its own error of every axis, and slip adds up with the way travelled, the way back included; backlash is the same in every pass. Or the pictures on both sides of a cut, of the target and of what is around it, lie further apart than the shoot's `match` allows: by framing, place, direction, roll or focal length.",
    cure: "Measure in again after the pass that the message names, take a pass less often, or allow more; for a cut, bring the keys together.",
    severity: "warning",
  },
  power: {
    title: "The battery does not last",
    doc: "The takes of a shoot, with set-ups, waits and ways back, need more energy than the rig's battery gives until it is changed: what the rig draws at rest all the time, and each axis on top while it moves. Passes of one move that need more than one battery are told at the move as information, a single take that does as an error.",
    cure: "Change the battery before the shot, or between the passes, that the message names.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
