import type { FileId } from "../base/span.ts";
import type { DocumentReview, MoveReview } from "../review/review.ts";
import { percent } from "../checks/figures.ts";
import { fieldsTable } from "./review-changes.ts";
import { counted, largestFigure } from "./review-figures.ts";
import { findingsLists } from "./review-findings.ts";
import { verdictLine } from "./review-move.ts";
import {
  coded,
  joined,
  named,
  plain,
  toned,
  type Line,
  type OutlineBlock,
  type OutlineSection,
} from "./review-outline.ts";
import { worstMovesFirst } from "./review-weight.ts";
import type { ReviewWording } from "./review-wording.ts";

/** What changed in a document that moves name, and what that does to each of them. */
export function documentSection(
  document: DocumentReview,
  moves: ReadonlyMap<FileId, MoveReview>,
  wording: ReviewWording,
): OutlineSection {
  const { file, renamedFrom, state, fields, findings } = document;
  const name = state === "removed" ? wording.nameOf(file, "before") : wording.nameOf(file);
  const was =
    renamedFrom === undefined ? [] : [plain(" (was "), named(wording.nameOf(renamedFrom, "before")), plain(")")];
  return {
    heading: [named(name), ...was, plain(": "), ...documentVerdict(document, moves)],
    blocks: [...findingsLists(findings, wording), ...fieldsTable(fields), ...usersBlock(document, moves, wording)],
  };
}

function documentVerdict(document: DocumentReview, moves: ReadonlyMap<FileId, MoveReview>): Line {
  const { kind, state } = document;
  if (state === "removed") return [toned("strong", "removed")];
  const affected = affectedBy(document, moves).length;
  const noun = kind === undefined ? "" : `${kind} `;
  return [toned(affected > 0 ? "strong" : "plain", `${noun}${stateWord(document)}`), ...reachWords(document, affected)];
}

function stateWord({ state, isTextSame, isMeaningSame }: DocumentReview): string {
  if (state === "added") return "added";
  if (isTextSame) return "as written before";
  return isMeaningSame ? "only said in another way" : "changed";
}

/** A shoot and a configuration are used by no move: what they do is told by their findings and by those of the moves. */
function reachWords({ kind, moves }: DocumentReview, affected: number): Line {
  if (kind === "shoot" || (kind === "config" && moves.length === 0)) return [];
  if (moves.length === 0) return [plain(", no move uses it")];
  if (affected > 0) return [plain(`, ${counted(affected, "move")} of ${moves.length} affected`)];
  return [plain(`, no motion change in ${counted(moves.length, "move")} that use${moves.length === 1 ? "s" : ""} it`)];
}

/** Moves that are not as they were: another motion, none that can be compared, or other findings. */
const affectedBy = (document: DocumentReview, moves: ReadonlyMap<FileId, MoveReview>): MoveReview[] =>
  worstMovesFirst(
    document.moves
      .flatMap((file) => moves.get(file) ?? [])
      .filter(({ motion, findings }) => motion !== "same" || findings.some(({ state }) => state !== "still")),
  );

function usersBlock(
  document: DocumentReview,
  moves: ReadonlyMap<FileId, MoveReview>,
  wording: ReviewWording,
): OutlineBlock[] {
  const affected = affectedBy(document, moves);
  const items = affected.map((move): Line => [
    named(wording.nameOf(move.file)),
    plain(": "),
    ...joined([verdictLine(move), ...worstEffects(move)]),
  ]);
  const rest = document.moves.filter((file) => !affected.some((move) => move.file === file));
  const quiet: Line[] =
    rest.length === 0 || affected.length === 0
      ? []
      : [[plain("no motion change: "), ...joined(rest.map((file) => [named(wording.nameOf(file))]))]];
  return items.length + quiet.length === 0 ? [] : [{ kind: "list", items: [...items, ...quiet] }];
}

/** How a move is affected, in a few figures: the axis nearest to its limit, and the way of the camera. */
export function worstEffects({ effects }: MoveReview): Line[] {
  if (!effects) return [];
  const axes = effects.axes.filter(({ share }) => share.before !== undefined && share.after !== undefined);
  const [worst] = [...axes].sort((a, b) => rise(b.share) - rise(a.share));
  const axis =
    worst && percent(worst.share.before!) !== percent(worst.share.after!)
      ? [
          [
            coded(worst.axis),
            plain(` from ${percent(worst.share.before!)} to ${percent(worst.share.after!)} of its limits`),
          ],
        ]
      : [];
  const path = effects.path && effects.path.byTime.value > 1e-6 ? [[plain(`camera path ${largestFigure(effects.path.byTime)}`)]] : []; // prettier-ignore
  return [...axis, ...path];
}

const rise = ({ before = 0, after = 0 }: { readonly before?: number; readonly after?: number }): number =>
  Math.abs(after - before);
