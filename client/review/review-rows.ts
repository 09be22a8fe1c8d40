import type { ReviewedMove, ReviewResult } from "../../protocol/review.ts";

/** One row of the view, without the editor's own classes. */
export interface ReviewRow {
  readonly label: string;
  readonly description: string;
  readonly tooltip: string;
  /** What a screen reader says. */
  readonly spoken: string;
  /** Names of the editor's own icons and colours. */
  readonly icon: { readonly name: string; readonly color?: string };
}

const LEVELS: Readonly<Record<ReviewedMove["level"], { readonly icon?: ReviewRow["icon"]; readonly word: string }>> = {
  error: { icon: { name: "error", color: "list.errorForeground" }, word: "new errors" },
  unsolved: { icon: { name: "circle-slash", color: "list.errorForeground" }, word: "not solved" },
  warning: { icon: { name: "warning", color: "list.warningForeground" }, word: "new warnings" },
  changed: { word: "changed" },
  same: { icon: { name: "circle-outline" }, word: "motion as before" },
};
const STATES = {
  added: { name: "diff-added", color: "gitDecoration.addedResourceForeground" },
  removed: { name: "diff-removed", color: "gitDecoration.deletedResourceForeground" },
  both: { name: "diff-modified", color: "gitDecoration.modifiedResourceForeground" },
};
/** Longest tooltip, in lines. */
const TOOLTIP_LINES = 12;

export function rowOf({ title, state, level, worst, lines }: ReviewedMove): ReviewRow {
  const { icon, word } = LEVELS[level];
  const more = lines.length > TOOLTIP_LINES ? [`and ${lines.length - TOOLTIP_LINES} more`] : [];
  return {
    label: title,
    description: worst,
    tooltip: [title, "", ...lines.slice(0, TOOLTIP_LINES), ...more].join("\n"),
    spoken: `${title}, ${word}: ${worst}`,
    icon: icon ?? STATES[state],
  };
}

/** What stands above the rows while not all of them are there; `undefined` for nothing. */
export function progressWords(results: readonly ReviewResult[]): string | undefined {
  const left = results.reduce((sum, each) => sum + each.left, 0);
  return left === 0 ? undefined : `${left} still to be compared.`;
}

/** The row for what is not shown; `undefined` for nothing. */
export function moreWords({ more }: ReviewResult): string | undefined {
  return more === 0 ? undefined : `and ${more} more`;
}
