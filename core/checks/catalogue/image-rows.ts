import type { CatalogueRow } from "./row.ts";

/** How the picture moves, and the margin around what is delivered. */
export const IMAGE_ROWS = {
  judder: {
    title: "The picture passes too fast",
    doc:
      "What the eye rests on crosses the width of the delivered picture in less time than the rule of thumb that camera makers publish for pans: 7 s at 24 frames a second and a shutter of 180 deg. " +
      "It holds as a number of frames, 168, at any rate; with another shutter the gap that blur leaves of each step is kept as wide, with half of the time at least (common practice, no source). " +
      "The eye rests on the target that is aimed at, in a change of aim on the one that moves less; without an aim on what is focused on; and where none of these is in the picture on the far background, which crosses as the camera turns by its angle of view. " +
      "A background that rushes by behind a subject which is held still is not judged: `expect` can (`camera.crossing`). The rule is where one starts, no cliff; `tolerance: { crossing }` says another time. " +
      "Also found: a turntable with `repeats` that turns by half of a repeat or more between two frames. By the sampling theorem frames then cannot tell which way, and what repeats seems to turn backwards or, at whole repeats, to stand.",
    cure: "Give the segment more time, hold a subject still in the frame, or say the time that is meant.",
    severity: "warning",
  },
  blur: {
    title: "The subject smears",
    doc:
      "The subject moves over more captured pixels while the shutter is open than `tolerance: { blur }` allows: its speed in the picture times the exposure, which is the shutter's share of a frame. " +
      "The subject is what the eye rests on, as for `judder`. The message also tells how far the far background smears at the edges of the delivered picture. " +
      "A move that states no such tolerance has no finding: that a pan smears is what one expects. `expect` (`TARGET.blur`) and the hover on a key tell by how much.",
    cure: "Give the segment more time, or shorten the shutter.",
    severity: "warning",
  },
  "crop-margin": {
    title: "The captured picture has too little margin",
    doc:
      "What post takes from the captured picture reaches into what is delivered. On each side lies half of what is captured less what is delivered, as the crop is centred. Of that are taken, added up: " +
      "half of `stabilise` (a share of the captured width and height), the framing error that is accepted (`tolerance: { aim }`, where anything is aimed at), and how far the last pass may be off the first at the target, at 95 %. " +
      "Where a whole width or height is delivered and nothing is stabilised, there is nothing to move along it. The lens's `centre` shifts no margin.",
    cure: "Deliver a smaller crop, or lower what stabilising may take.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
