import type { CatalogueRow } from "./row.ts";

/** People near the rig. */
export const PEOPLE_ROWS = {
  people: {
    title: "A person is near the moving rig",
    doc: "A person of the set is nearer to what the rig, the camera or the lens sweeps than `tolerance: clearance`, in the take or on the way back; or, as a warning, a point of the rig or the camera is faster than 250 mm/s, the reduced speed of ISO 10218-1, within `tolerance: people` of a person: 850 mm where nothing else is said, a stretched arm in ISO 13855. What the rig drives counts, as far as its bodies are stated, and of the camera at least the line from sensor to pupil; what stands in the take does not. This is arithmetic on a plan and no assessment of safety.",
    cure: "Lead the move past at a distance, have the person stand elsewhere, or slow the move down; and follow the rig's manual, local rules and the person responsible on set.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
