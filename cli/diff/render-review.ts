import { outlineReview } from "../../core/exchange/outline-review.ts";
import { renderReviewPage } from "../../core/exchange/review-html.ts";
import { reviewAnswer } from "../../core/exchange/review-json.ts";
import { renderReviewMarkdown } from "../../core/exchange/review-markdown.ts";
import type { Tone } from "../../core/exchange/review-outline.ts";
import { renderReviewText } from "../../core/exchange/review-text.ts";
import type { ReviewWording } from "../../core/exchange/review-wording.ts";
import type { Review } from "../../core/review/review.ts";
import { renderJson } from "../json.ts";
import type { Paint } from "../paint.ts";

export const REVIEW_FORMATS = ["text", "markdown", "json", "html"] as const;
export type ReviewFormat = (typeof REVIEW_FORMATS)[number];

/** How a terminal shows the tones of a review. */
const STYLES: Readonly<Partial<Record<Tone, Parameters<Paint>[0]>>> = {
  strong: "strong",
  error: "error",
  warning: "warning",
  quiet: "quiet",
};

/** A review in one of the formats. */
export function renderReview(
  review: Review,
  wording: ReviewWording,
  { format, paint }: { readonly format: ReviewFormat; readonly paint: Paint },
): string {
  if (format === "json") return renderJson(reviewAnswer(review, wording));
  const outline = outlineReview(review, wording);
  if (format === "markdown") return renderReviewMarkdown(outline);
  if (format === "html") return renderReviewPage(outline, `What changed: ${wording.before} → ${wording.after}`);
  return renderReviewText(outline, (tone, text) => {
    const style = STYLES[tone];
    return style === undefined || text === "" ? text : paint(style, text);
  });
}
