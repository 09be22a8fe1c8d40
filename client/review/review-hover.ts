import * as vscode from "vscode";
import {
  REVIEW_HOVER_REQUEST,
  type ReviewHoverParams,
  type ReviewHoverResult,
  type ReviewSide,
} from "../../protocol/review.ts";
import type { Ask } from "../server-link.ts";
import type { FolderReview } from "./folder-reviews.ts";
import { sideOf } from "./diff-side.ts";

/** Moves of any place of the editor; the older text of its own comparisons has an address of Git's. */
const MOVES = "**/*.move.{yaml,yml,json}";

type ReviewOf = (uri: vscode.Uri) => FolderReview | undefined;
type Question = Omit<ReviewHoverParams, "position">;

/** Tells old and new values of a move where its text is compared, and in any editor once a base is chosen. */
export function registerReviewHover(ask: Ask, reviewOf: ReviewOf): vscode.Disposable {
  return vscode.languages.registerHoverProvider(
    { pattern: MOVES },
    {
      async provideHover(document, { line, character }) {
        const question = (await inComparison(document.uri, reviewOf)) ?? againstBase(document.uri, reviewOf);
        if (!question) return undefined;
        const params: ReviewHoverParams = { ...question, position: { line, character } };
        const answer = await ask<ReviewHoverResult>(REVIEW_HOVER_REQUEST, params);
        return answer ? new vscode.Hover(new vscode.MarkdownString(answer.markdown)) : undefined;
      },
    },
  );
}

/** The two texts of a comparison of the editor's own that is open and that a document is a side of. */
async function inComparison(uri: vscode.Uri, reviewOf: ReviewOf): Promise<Question | undefined> {
  const inputs = vscode.window.tabGroups.all.flatMap(({ activeTab }) => activeTab?.input ?? []);
  for (const input of inputs) {
    if (!(input instanceof vscode.TabInputTextDiff)) continue;
    const [before, after] = await Promise.all([sideOf(input.original), sideOf(input.modified)]);
    const side = [input.original, input.modified].findIndex((each) => each.toString() === uri.toString());
    if (!before || !after || side < 0) continue;
    const labels = [labelOf(before, reviewOf), labelOf(after, reviewOf)] as const;
    return { before, after, side: side === 0 ? "before" : "after", labels, quiet: false };
  }
  return undefined;
}

/** A commit by the name of the base, where it is that, else by its number. */
function labelOf({ uri, revision }: ReviewSide, reviewOf: ReviewOf): string {
  if (revision === undefined) return "now";
  const found = reviewOf(vscode.Uri.parse(uri))?.found;
  const isBase = found !== undefined && "base" in found && found.base.revision === revision;
  return isBase ? found.base.label : revision.slice(0, 7);
}

function againstBase(uri: vscode.Uri, reviewOf: ReviewOf): Question | undefined {
  const review = reviewOf(uri);
  if (!review || "problem" in review.found) return undefined;
  const now = uri.toString();
  const move = review.result?.moves.find((each) => each.uri === now);
  // What is not among the changed moves is as it was.
  if (move?.state !== "both") return undefined;
  const { revision, label } = review.found.base;
  return {
    before: { uri: move.was ?? now, revision },
    after: { uri: now },
    side: "after",
    labels: [label, "now"],
    quiet: true,
  };
}
