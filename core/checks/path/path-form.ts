import type { CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { pathCheck, pathNotes } from "./path-check.ts";
import type { PathNote } from "../../motion/path-note.ts";

/** `bad-number` of an arc that no circle makes, the camera then goes straight; as a warning of a way without length. */
export const badArc = pathCheck("bad-number", (context) =>
  pathNotes(context.trajectory, "no-arc").map((note) => formFinding(context, note, { fault: note.fault })),
);

/** `over-determined`, as a warning, where `blend` has no corner to round. */
export const idleBlend = pathCheck("over-determined", (context) =>
  pathNotes(context.trajectory, "idle-blend").map((note) => formFinding(context, note, { fault: "idle-blend" })),
);

function formFinding(
  { move }: CheckContext,
  { kind, key: at, from, to }: PathNote,
  facts: { readonly fault: string },
): Finding {
  const key = move.keys[at];
  const isBlend = kind === "idle-blend";
  const isHarmless = isBlend || facts.fault === "no-length";
  return {
    code: isBlend ? "over-determined" : "bad-number",
    severity: isHarmless ? "warning" : "error",
    origin: (isBlend ? key.blend?.origin : key.path?.origin) || key.origin,
    related: [],
    key: key.label,
    time: { from, to },
    evidence: "exact",
    facts,
  };
}
