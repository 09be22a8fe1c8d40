import type { FileId } from "../../core/base/span.ts";
import { percent, seconds } from "../../core/checks/figures.ts";
import { formatQuantity } from "../../core/base/units.ts";
import { outlineReview } from "../../core/exchange/outline-review.ts";
import { renderReviewFragment, renderReviewSection } from "../../core/exchange/review-html.ts";
import { moveSection } from "../../core/exchange/review-move.ts";
import type { MoveReview } from "../../core/review/review.ts";
import { askedOfGit } from "../diff/asked-change.ts";
import type { ChangeSetting } from "../diff/change-setting.ts";
import { atWork, type WorkOptions } from "../checking/work.ts";
import { openChange } from "../diff/open-change.ts";
import { wordingOf } from "../diff/review-wording.ts";
import { runReview } from "../diff/run-review.ts";
import { words } from "./page-shell.ts";
import type { ReportInput } from "./report-job.ts";

/** A change, as the pages of a report tell of it. */
export interface ToldChange {
  readonly setting: ChangeSetting;
  readonly before: string;
  readonly html: string;
  readonly notes: readonly string[];
  /** What the page of a move is told: what changed, and where the move was. */
  inputOf(file: FileId): Pick<ReportInput, "change" | "was">;
  /** A clause of HTML; `undefined` where nothing that the move uses changed. */
  clauseOf(file: FileId): string | undefined;
}

/** Reviews the change from a revision to the disk. Throws `GitFailure` for what git can't give. */
export async function toldChange(
  against: string,
  paths: readonly string[],
  nameOf: (file: FileId) => string,
  options: WorkOptions,
): Promise<ToldChange> {
  const asked = askedOfGit(against, paths);
  const change = openChange(asked.setting);
  const { review, notes } = await atWork(options, "documents compared", (work) =>
    runReview(asked.setting, change, asked.isAsked, work),
  );
  const wording = { ...wordingOf(asked, change, notes), nameOf };
  const byFile = new Map(review.moves.map((move) => [move.file, move]));
  const stood = new Set(change.before.documents);
  return {
    setting: asked.setting,
    before: asked.before,
    html: renderReviewFragment(outlineReview(review, wording)),
    notes,
    inputOf(file) {
      const move = byFile.get(file);
      if (!move) return { change: "<p>No motion change.</p>", ...(stood.has(file) ? { was: file } : {}) };
      const was = move.state === "both" ? { was: move.renamedFrom ?? file } : {};
      return { change: renderReviewSection(moveSection(move, wording)), ...was };
    },
    clauseOf(file) {
      const move = byFile.get(file);
      return move && clause(move);
    },
  };
}

/** `path up to 42 mm at 3.1 s; pan 82 % → 104 %`. */
function clause({ state, motion, effects, problem }: MoveReview): string {
  if (state !== "both") return state;
  if (motion === "unknown") return words(`can’t be compared: ${problem.after ?? problem.before ?? ""}`);
  if (motion === "same") return "no motion change";
  const path = effects?.path?.byTime;
  const axes = [...(effects?.axes ?? [])].sort((a, b) => (b.share.after ?? 0) - (a.share.after ?? 0));
  const worst = axes.find(({ share }) => Math.abs((share.after ?? 0) - (share.before ?? 0)) > 0.005);
  const share = (value: number | undefined): string => (value === undefined ? "none" : percent(value));
  const parts = [
    ...(path && path.value > 0.0005 ? [`path up to ${formatQuantity(path.value, "length")} at ${seconds(path.at)}`] : []), // prettier-ignore
    ...(worst ? [`${worst.axis} ${share(worst.share.before)} → ${share(worst.share.after)} of its ${worst.of.after ?? "limit"}`] : []), // prettier-ignore
  ];
  return words(parts.length === 0 ? "motion changed" : parts.join("; "));
}
