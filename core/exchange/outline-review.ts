import type { MoveReview, Review } from "../review/review.ts";
import { documentSection } from "./review-document.ts";
import { moveSection } from "./review-move.ts";
import { joined, named, plain, toned, type Line, type OutlineSection, type ReviewOutline } from "./review-outline.ts";
import { summaryLine } from "./review-summary.ts";
import { hasNews, worstMovesFirst } from "./review-weight.ts";
import type { ReviewWording } from "./review-wording.ts";

/** Puts a review in the order in which it is read: what it comes to, the moves with the worst first, what changed beside them. */
export function outlineReview(review: Review, wording: ReviewWording): ReviewOutline {
  const sorted = worstMovesFirst(review.moves);
  const byFile = new Map(review.moves.map((move) => [move.file, move]));
  return {
    summary: summaryLine(review),
    moves: [...sorted.filter(hasNews).map((move) => moveSection(move, wording)), ...untouched(review, wording)],
    documents: review.documents.map((document) => documentSection(document, byFile, wording)),
    notes: wording.notes,
  };
}

/** Moves of which nothing is to be told, in one section. */
function untouched({ moves }: Review, { nameOf }: ReviewWording): OutlineSection[] {
  const quiet = moves.filter((move) => !hasNews(move));
  if (quiet.length === 0) return [];
  const [same, other] = [true, false].map((isSame) => quiet.filter(({ isTextSame }) => isTextSame === isSame));
  const lines = [
    ...(other.length > 0 ? [[plain("only said in another way: "), ...names(other, nameOf)]] : []),
    ...(same.length > 0 ? [[plain("as written before: "), ...names(same, nameOf)]] : []),
  ];
  return [{ heading: [toned("good", "No motion change")], blocks: [{ kind: "lines", lines }] }];
}

/** Names of a line at most. */
const MOST_NAMES = 20;

function names(moves: readonly MoveReview[], nameOf: ReviewWording["nameOf"]): Line {
  const shown = joined(moves.slice(0, MOST_NAMES).map(({ file }) => [named(nameOf(file))]));
  return moves.length > MOST_NAMES ? [...shown, plain(` and ${moves.length - MOST_NAMES} more`)] : shown;
}
