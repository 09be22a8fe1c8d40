import type { CatalogueRow } from "./row.ts";

/** People near the rig. */
export const PEOPLE_ROWS = {
  people: {
    title: "A person is near the moving rig",
    doc: "A person of the set stands in what the rig sweeps, or the camera or the arm moves faster than the reduced speed beside one. This is arithmetic on a plan and no assessment of danger.",
    cure: "Move the person or the move; slow it down; and follow the rig's manual and who is responsible on set.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
