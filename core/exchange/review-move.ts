import type { MoveReview } from "../review/review.ts";
import { changesTable } from "./review-changes.ts";
import { effectsTables } from "./review-effects.ts";
import { counted } from "./review-figures.ts";
import { findingsLists } from "./review-findings.ts";
import { joined, named, plain, sentence, toned, type Line, type OutlineSection } from "./review-outline.ts";
import { newOnes } from "./review-weight.ts";
import type { ReviewWording } from "./review-wording.ts";

/** All that is told of one move. */
export function moveSection(move: MoveReview, wording: ReviewWording): OutlineSection {
  const about = [...aboutLines(move, wording), ...problemLines(move, wording)];
  return {
    heading: [...nameLine(move, wording), plain(": "), ...verdictLine(move)],
    blocks: [
      ...(about.length > 0 ? [{ kind: "lines", lines: about } as const] : []),
      ...findingsLists(move.findings, wording),
      ...changesTable(move),
      ...effectsTables(move),
    ],
  };
}

/** `moves/rise.move.yaml` and its title, with the name that it had before. */
function nameLine({ file, renamedFrom, title, state }: MoveReview, { nameOf }: ReviewWording): Line {
  const was = renamedFrom === undefined ? [] : [plain(" (was "), named(nameOf(renamedFrom, "before")), plain(")")];
  const name = state === "removed" ? nameOf(file, "before") : nameOf(file);
  return [named(name), ...(title === "" ? [] : [plain(` ${title}`)]), ...was];
}

/** What a change comes to for a move, in a few words: `motion changed, 1 new error`. */
export function verdictLine(move: MoveReview): Line {
  const errors = newOnes(move.findings, "error").length;
  const warnings = newOnes(move.findings, "warning").length;
  return joined([
    [verdict(move)],
    ...(errors > 0 ? [[toned("error", counted(errors, "new error"))]] : []),
    ...(warnings > 0 ? [[toned("warning", counted(warnings, "new warning"))]] : []),
  ]);
}

function verdict({ state, motion, keys, fields, isTextSame }: MoveReview) {
  if (state === "added") return toned("strong", "added");
  if (state === "removed") return toned("strong", "removed");
  if (motion === "unknown") return toned("error", "the motion can't be compared");
  if (motion === "changed") return toned("strong", "motion changed");
  const isMeaningSame = keys.length + fields.length === 0 && !isTextSame;
  return toned("good", isMeaningSame ? "no motion change (it says the same in another way)" : "no motion change");
}

function aboutLines({ causes, isTextSame, state, file }: MoveReview, { nameOf }: ReviewWording): Line[] {
  const others = causes.filter((cause) => cause !== file);
  if (others.length === 0 || state !== "both") return [];
  const names = joined(others.map((cause) => [named(nameOf(cause))]));
  return [
    [plain(isTextSame ? "The move itself is as it was; what changed is " : "Changed beside the move: "), ...names],
  ];
}

function problemLines({ problem }: MoveReview, { before, after }: ReviewWording): Line[] {
  const said = (side: string, why: string | undefined): Line[] =>
    why === undefined ? [] : [[plain("It can't be solved in "), named(side), plain(": "), ...sentence(why)]];
  return [...said(before, problem.before), ...said(after, problem.after)];
}
