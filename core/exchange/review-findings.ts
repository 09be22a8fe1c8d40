import type { FindingReview } from "../review/review.ts";
import { countedFindings } from "./counted-findings.ts";
import { coded, named, plain, sentence, toned, type Line, type OutlineList, type Tone } from "./review-outline.ts";
import type { ReviewWording } from "./review-wording.ts";

const RANKS = ["error", "warning", "information", "hint"] as const;
const NOUNS = { error: "error", warning: "warning", information: "note", hint: "hint" } as const;

/** Findings that came and went, the worse first, and behind one line those that stay. */
export function findingsLists(findings: readonly FindingReview[], wording: ReviewWording): OutlineList[] {
  const sorted = [...findings].sort((a, b) => RANKS.indexOf(a.finding.severity) - RANKS.indexOf(b.finding.severity));
  const inState = (state: FindingReview["state"]): Line[] =>
    sorted.filter((one) => one.state === state).map((one) => findingLine(one, wording));
  const moved = [...inState("new"), ...inState("gone")];
  const still = inState("still");
  const counted = countedFindings(sorted.filter(({ state }) => state === "still").map(({ finding }) => finding));
  return [
    ...(moved.length > 0 ? [{ kind: "list", items: moved } as const] : []),
    ...(still.length > 0 ? [{ kind: "list", folded: `still there: ${counted}`, items: still } as const] : []),
  ];
}

function findingLine({ state, code, finding }: FindingReview, { nameOf, rangeOf }: ReviewWording): Line {
  const { severity, message, place, allowed } = finding;
  const side = state === "gone" ? "before" : "after";
  const where = `${side === "before" ? nameOf(place.file, side) : nameOf(place.file)}:${rangeOf(place, side).start.line + 1}`;
  const word = state === "still" ? NOUNS[severity] : `${state} ${NOUNS[severity]}`;
  const reason = allowed === undefined ? [] : [toned("quiet", ` (allowed: ${allowed})`)];
  return [toned(toneOf(state, severity, allowed), word), plain(" "), named(where), plain(" "), coded(code), plain(" "), ...sentence(message), ...reason]; // prettier-ignore
}

function toneOf(state: FindingReview["state"], severity: (typeof RANKS)[number], allowed: string | undefined): Tone {
  if (state === "gone") return "good";
  const isGrave = severity === "error" || severity === "warning";
  return isGrave && state === "new" && allowed === undefined ? severity : "quiet";
}
