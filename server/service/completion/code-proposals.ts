import { findingsOf } from "../../../core/checks/analysis.ts";
import { MOTION_CODES } from "../../../core/base/finding-code.ts";
import { CATALOGUE } from "../../../core/checks/catalogue.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import { keyAtOffset } from "../key-place.ts";
import { plain } from "../markdown.ts";
import type { Asked, Proposal } from "./proposal.ts";

export function isAllowCode({ cursor: { path } }: Asked): boolean {
  return path[path.length - 1] === "code" && path[path.length - 3] === "allow";
}

/** Codes that may be allowed: those whose findings stand in this key, or in this document, first. */
export function codeProposals(asked: Asked): readonly Proposal[] {
  const standing = standingFindings(asked);
  return MOTION_CODES.map((label): Proposal => {
    const here = standing.filter(({ code }) => code === label);
    const { doc } = CATALOGUE[label];
    if (here.length === 0) return { label, kind: "word", doc, rank: 1 };
    const count = here.length === 1 ? "stands here" : `stands here ${here.length} times`;
    return { label, kind: "word", detail: count, doc: `${doc}\n\n${plain(here[0].message)}`, rank: 0 };
  });
}

/** Findings that an allow at the cursor would be about: those of its key, and outside keys all of the document. */
function standingFindings({ view, cursor }: Asked): readonly PlacedFinding[] {
  const { solved, file } = view;
  const all = solved ? solved.findings : findingsOf(view.analysis);
  const open = all.filter((finding) => finding.allowed === undefined);
  if (cursor.path[0] !== "keys" || !solved) return open;
  const key = keyAtOffset(solved, file, cursor.word.start);
  const shift = solved.shift;
  return open.filter(({ place }) => {
    const start = shift ? shift.toNewer(place.span.start) : place.span.start;
    return place.file === file && keyAtOffset(solved, file, start) === key;
  });
}
