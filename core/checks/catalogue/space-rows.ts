import type { CatalogueRow } from "./row.ts";

/** What the rig and the camera come near to. */
export const SPACE_ROWS = {
  clearance: {
    title: "Too near to something in the set",
    doc: "A part of the rig, the camera or the lens comes nearer to something in the set than `tolerance: clearance`, at a key or between keys. The rig counts as far as its `bodies` are stated, of the camera also the lens's `front` and the `attachments`. What stands on the base may stand beside what stands in the set, not within it.",
    cure: "Lead the move past it at a distance, or move what stands there.",
    severity: "error",
  },
  "self-clearance": {
    title: "The rig meets itself",
    doc: "Two parts of the rig or the camera come nearer to each other than `tolerance: self-clearance`. Parts that touch at rest are built to; those that stand nearer at rest than that may not meet; what the rig lists as `touching` is left out.",
    cure: "Change the key so that the parts stay apart, or list them under `touching`.",
    severity: "error",
  },
  floor: {
    title: "Too near to the floor",
    doc: "A part of the rig or the camera that goes up and down in the take comes nearer to the floor of the set than `tolerance: clearance`; or one that keeps its height, such as a wheel, reaches below the floor that the base stands on.",
    cure: "Raise the camera or the column.",
    severity: "error",
  },
  "in-view": {
    title: "The rig is in the picture",
    doc: "A part of the rig stands inside the view of its own camera, in front of the lens. What the delivered crop is free of is a warning. The camera itself and attachments that enclose the view, such as a matte box, are not looked for.",
    cure: "Change the pose so that the part leaves the view, or take a longer lens.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
