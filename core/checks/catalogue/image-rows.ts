import type { CatalogueRow } from "./row.ts";

/** How the picture moves, and the margin around what is delivered. */
export const IMAGE_ROWS = {
  judder: {
    title: "The picture passes too fast",
    doc: "Something crosses the frame in less time than common practice allows for the rate and the shutter, so that its motion breaks up into steps.",
    cure: "Give the segment more time, or hold the subject still in the frame.",
    severity: "warning",
  },
  blur: {
    title: "The subject smears",
    doc: "The subject moves over more pixels while the shutter is open than the move allows.",
    cure: "Give the segment more time, or shorten the shutter.",
    severity: "warning",
  },
  "crop-margin": {
    title: "The captured picture has too little margin",
    doc: "What stabilising, framing errors and the spread of passes may take from the captured picture reaches into what is delivered.",
    cure: "Deliver a smaller crop, or lower what stabilising may take.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
