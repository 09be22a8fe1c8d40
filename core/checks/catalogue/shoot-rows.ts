import type { CatalogueRow } from "./row.ts";

/** The day of a shoot, and how well passes repeat. */
export const SHOOT_ROWS = {
  match: {
    title: "Pictures that must match do not",
    doc: "Passes differ from the first one by more than `tolerance: match`, or the two sides of a cut differ by more than the shoot's `match` allows.",
    cure: "Measure in again after the passes that the message names, or bring the keys together.",
    severity: "warning",
  },
  power: {
    title: "The battery does not last",
    doc: "The takes of a shoot, with waits and ways back, need more energy than the battery gives.",
    cure: "Change the battery before the shot that the message names.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
