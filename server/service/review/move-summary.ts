import { baseName } from "../../../core/base/path.ts";
import { plainWords } from "../../../core/base/plain-words.ts";
import { CATALOGUE } from "../../../core/checks/catalogue.ts";
import { amountFigures, isSeen } from "../../../core/exchange/review-figures.ts";
import { newOnes } from "../../../core/exchange/review-weight.ts";
import type { FieldChange, FindingReview, KeyReview, MoveReview } from "../../../core/review/review.ts";
import type { ReviewedMove, ReviewLevel } from "../../../protocol/review.ts";
import { axisWords, effectWords } from "./effect-words.ts";

/** Most lines of one kind: longer lists are not read. */
const MOST = 12;
export const SAME_MOTION = "no motion change";

/** What a view says of a changed move, but for its places. */
export type MoveSummary = Pick<ReviewedMove, "title" | "state" | "level" | "worst" | "lines">;

/** A review in a few words: its worst, and all of it a line each. */
export function summaryOf(review: MoveReview): MoveSummary {
  const { title, state } = review;
  const level = levelOf(review);
  const lines = [
    ...findingLines(review, "new"),
    ...problemLines(review),
    ...(review.motion === "same" ? [SAME_MOTION] : []),
    ...capped(effectWords(review).map(({ words }) => words)),
    ...keyLines(review.keys),
    ...capped(review.fields.map(fieldWords)),
    ...findingLines(review, "gone"),
    ...(review.causes.length > 0 ? [`changed by ${capped(review.causes.map(baseName)).join(", ")}`] : []),
  ];
  const worst = worstOf(review, level) ?? lines[0] ?? SAME_MOTION;
  return { title: plainWords(title), state, level, worst: plainWords(worst), lines: lines.map(plainWords) };
}

/** Those that somebody has allowed are told of nobody. */
const counts = (review: MoveReview, state: FindingReview["state"]): readonly FindingReview[] =>
  review.findings.filter((each) => each.state === state && each.finding.allowed === undefined);

function levelOf(review: MoveReview): ReviewLevel {
  if (review.state !== "removed") {
    if (newOnes(review.findings, "error").length > 0) return "error";
    if (review.problem.after !== undefined) return "unsolved";
    if (newOnes(review.findings, "warning").length > 0) return "warning";
  }
  return review.state === "both" && review.motion === "same" ? "same" : "changed";
}

function worstOf(review: MoveReview, level: ReviewLevel): string | undefined {
  if (review.state === "removed") return "removed";
  if (level === "unsolved") {
    return review.state === "both" && review.problem.before === undefined
      ? "can't be solved any more"
      : "can't be solved";
  }
  if (level === "error" || level === "warning") return findingWords(review, level);
  if (review.state === "added") return "added";
  if (review.motion === "same") return SAME_MOTION;
  return effectWords(review)[0]?.words;
}

/** A new finding about a limit by the share of that limit, any other by its name. */
function findingWords(review: MoveReview, severity: "error" | "warning"): string | undefined {
  const found = newOnes(review.findings, severity);
  const more = found.length > 1 ? ` and ${found.length - 1} more` : "";
  const over = found.flatMap(({ finding: { axis } }) =>
    (review.effects?.axes ?? [])
      .filter((each) => each.axis === axis && (each.share.after ?? 0) > 1 && each.share.before !== undefined)
      .flatMap((each) => axisWords(each, review.timeline)),
  );
  const most = over.sort((a, b) => b.weight - a.weight)[0];
  if (most) return `${most.words}${more}`;
  const [first] = found;
  const what = CATALOGUE[first.code].title;
  return `new ${severity}: ${what.charAt(0).toLowerCase()}${what.slice(1)}${more}`;
}

function findingLines(review: MoveReview, state: "new" | "gone"): string[] {
  return capped(
    counts(review, state).map(({ finding: { severity, message } }) =>
      state === "new" ? `new ${severity}: ${message}` : `gone: ${message}`,
    ),
  );
}

function problemLines({ problem: { before, after } }: MoveReview): string[] {
  if (after !== undefined) return [`It can't be solved: ${after}`];
  return before === undefined ? [] : [`It could not be solved before: ${before}`];
}

/** Most fields of one key that are told. */
const MOST_FIELDS = 4;

function keyLines(keys: readonly KeyReview[]): string[] {
  return capped(
    keys.map(({ key, state, renamedFrom, time, fields }) => {
      const name = /^key \d+$/.test(key) ? key : `key ${key}`;
      if (state !== "changed") return `${name} ${state}`;
      const { was, is } = amountFigures(time);
      const told = [
        ...(renamedFrom === undefined ? [] : [`was called ${renamedFrom}`]),
        ...(isSeen(time) ? [`at ${was} → ${is}`] : []),
        ...fields.slice(0, MOST_FIELDS).map(fieldWords),
        ...(fields.length > MOST_FIELDS ? [`${fields.length - MOST_FIELDS} more`] : []),
      ];
      return `${name}: ${told.join(", ")}`;
    }),
  );
}

const fieldWords = ({ field, was, is }: FieldChange): string =>
  `${field} ${was ?? "not written"} → ${is ?? "not written"}`;

function capped(lines: readonly string[]): string[] {
  return lines.length <= MOST ? [...lines] : [...lines.slice(0, MOST), `and ${lines.length - MOST} more`];
}
