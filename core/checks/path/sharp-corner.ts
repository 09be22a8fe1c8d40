import type { AddedField, Finding } from "../finding.ts";
import { pathCheck, pathNotes } from "./path-check.ts";

/** [m] What the cure proposes for a rounding; the engine takes no more than half of either way. */
const PROPOSED_BLEND = "0.1 m";

const STOP: AddedField = { field: "stop", value: "true" };
const BLEND: AddedField = { field: "blend", value: PROPOSED_BLEND };

/** `sharp-corner`: two ways meet otherwise than smoothly, and nothing says what the camera is to do there. */
export const sharpCorner = pathCheck("sharp-corner", ({ move, trajectory }) =>
  pathNotes(trajectory, "corner").map((note): Finding => {
    const key = move.keys[note.key];
    const next = move.keys[note.key + 1];
    const { joint } = note;
    return {
      code: "sharp-corner",
      // Where frames part the axes would have to jump in speed, whether the camera rests or not.
      severity: joint.kind === "parting" ? "error" : "warning",
      origin: key.path?.origin || key.origin,
      related: next?.path ? [{ origin: next.path.origin, note: "see" }] : [],
      key: key.label,
      time: { from: note.from, to: note.to },
      peak: note.from,
      evidence: "exact",
      facts: { joint: joint.kind, ...(joint.kind === "corner" && { angle: joint.angle }) },
      adds: joint.kind === "parting" ? [BLEND] : [STOP, BLEND],
    };
  }),
);
