import type { CatalogueRow } from "./row.ts";

/** Focus between what is near and what is far. */
export const FOCUS_ROWS = {
  "focus-speed": {
    title: "A lens motor is too fast",
    doc: "Focus, iris or zoom has to turn faster, or change its speed faster, than the lens's motor can, on the motor's own scale (`motors` of the lens). Focus that goes off the scale's ends is a warning of the same code: there the motor's angle is a guess.",
    cure: "Give the segment more time, or rack between targets that are nearer to each other; give a scale rows for all that is focused on.",
    severity: "error",
  },
  "soft-subject": {
    title: "The subject is out of focus",
    doc: "What the move aims at lies nearer or farther than the depth of field about the focused distance reaches. Distances are along the view from the entrance pupil, the circle of confusion is the camera's `coc`. While the aim is on its way from one target to another nothing has to be sharp, nor while focus is on its way from one thing to another; distances keyed one after the other follow the subject and count. Without a `focus` nothing is said.",
    cure: "Focus on the subject, or close the iris.",
    severity: "warning",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
