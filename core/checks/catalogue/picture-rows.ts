import type { CatalogueRow } from "./row.ts";

/** Reach, aim, and where the subject is in the picture. */
export const PICTURE_ROWS = {
  "out-of-reach": {
    title: "The rig cannot get there",
    doc: "No values of the axes inside their ranges put the camera, or turn the head, where the move wants it.",
    cure: "Move the key to the nearest place in reach, or move the base, the column or the arm.",
    severity: "error",
  },
  "aim-error": {
    title: "The aim is missed",
    doc: "The target is farther from its framing than `tolerance: aim`, because the head cannot turn there.",
    cure: "Change the framing or the camera's place so that the head can reach the view.",
    severity: "error",
  },
  "out-of-frame": {
    title: "The subject is out of frame",
    doc: "What the move aims at is outside the captured picture or outside the delivered crop.",
    cure: "Change the framing of the key, or allow it when the subject is meant to leave the picture.",
    severity: "error",
  },
  "aim-spin": {
    title: "The head spins near its pole",
    doc: "The view comes so near to the direction of the pan axis, as in a top-down shot, that pan must turn very fast to hold the aim.",
    cure: "Lead the view past the pole at a distance, hold pan over the crossing, or let roll do the turn.",
    severity: "warning",
  },
  "focus-near": {
    title: "Nearer than the lens can focus",
    doc: "The focus distance, from the sensor plane, is shorter than the lens's `close-focus`.",
    cure: "Move the camera back, or take a lens that focuses nearer.",
    severity: "error",
  },
} satisfies Readonly<Record<string, CatalogueRow>>;
