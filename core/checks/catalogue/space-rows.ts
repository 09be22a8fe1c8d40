import type { CatalogueRow } from "./row.ts";

/** What the rig and the camera come near to. */
export const SPACE_ROWS = {
  clearance: {
    title: "Too near to something in the set",
    doc: "A part of the rig, the camera or the lens comes nearer to something in the set than `tolerance: clearance`, at a key or between keys.",
    cure: "Lead the move past it at a distance, or move what stands there.",
    severity: "error",
  },
  "self-clearance": {
    title: "The rig meets itself",
    doc: "Two parts of the rig or the camera come nearer to each other than `tolerance: clearance`.",
    cure: "Change the key so that the parts stay apart.",
    severity: "error",
  },
  floor: {
    title: "Too near to the floor",
    doc: "A part of the rig or the camera comes to the floor, or nearer to it than `tolerance: clearance`.",
    cure: "Raise the camera or the column.",
    severity: "error",
  },
  "in-view": {
    title: "The rig is in the picture",
    doc: "A part of the rig stands inside the view of its own camera.",
    cure: "Change the pose so that the part leaves the view, or take a longer lens.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
