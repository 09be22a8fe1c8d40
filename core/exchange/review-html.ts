import { plainWords } from "../base/plain-words.ts";
import { xmlText } from "../base/xml-text.ts";
import { REVIEW_PAGE_STYLE, REVIEW_STYLE } from "./review-style.ts";
import type { Line, OutlineBlock, OutlineSection, OutlineTable, ReviewOutline, Words } from "./review-outline.ts";

/** A review as one page without scripts, which opens from a disk, follows the reader's light or dark, and prints. */
export function renderReviewPage(outline: ReviewOutline, title: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="color-scheme" content="light dark">
<meta name="generator" content="${REVIEW_GENERATOR}">
<title>${text(title)}</title>
<style>
${REVIEW_STYLE}${REVIEW_PAGE_STYLE}</style>
</head>
<body>
<main>
<h1>${text(title)}</h1>
${renderReviewFragment(outline)}
</main>
</body>
</html>
`;
}

/** By this a page is known again as one that the program made. */
export const REVIEW_GENERATOR = "Movewright review";

/** A review as the inside of another page, which has to bring `REVIEW_STYLE`. Its headings begin with `h2`. */
export function renderReviewFragment({ summary, moves, documents, notes }: ReviewOutline): string {
  const parts = [
    `<p class="review-summary">${line(summary)}</p>`,
    ...part("Moves", moves),
    ...part("Rigs, cameras, sets and other files", documents),
    ...notes.map((note) => `<p class="review-note">${text(note)}.</p>`),
    '<p class="review-note">A change without findings isn’t one that is safe: it is arithmetic on what the documents say.</p>',
  ];
  return `<div class="review">\n${parts.join("\n")}\n</div>`;
}

/** One section alone: what is told of one move. */
export function renderReviewSection({ heading, blocks }: OutlineSection): string {
  return `<section>\n<h3>${line(heading)}</h3>\n${blocks.map(block).join("\n")}\n</section>`;
}

function part(title: string, sections: readonly OutlineSection[]): string[] {
  return sections.length === 0 ? [] : [`<h2>${text(title)}</h2>`, ...sections.map(renderReviewSection)];
}

function block(one: OutlineBlock): string {
  if (one.kind === "table") return table(one);
  if (one.kind === "lines") return one.lines.map((words) => `<p>${line(words)}</p>`).join("\n");
  const items = `<ul>\n${one.items.map((words) => `<li>${line(words)}</li>`).join("\n")}\n</ul>`;
  return one.folded === undefined ? items : `<details><summary>${text(one.folded)}</summary>\n${items}\n</details>`;
}

function table({ head, rows }: OutlineTable): string {
  const titles = head.map((title) => `<th scope="col">${text(title)}</th>`).join("");
  const lines = rows.map(
    ([first, ...rest]) =>
      `<tr><th scope="row">${line(first)}</th>${rest.map((cell) => `<td${isShort(cell) ? ' class="review-short"' : ""}>${line(cell)}</td>`).join("")}</tr>`,
  );
  return `<div class="review-table" tabindex="0" role="group" aria-label="${head.map(text).join(", ")}"><table>\n<thead><tr>${titles}</tr></thead>\n<tbody>\n${lines.join("\n")}\n</tbody>\n</table></div>`;
}

/** A figure with its unit stays on one line. */
const isShort = (cell: Line): boolean => cell.reduce((sum, { text: said }) => sum + said.length, 0) <= 24;

const line = (words: Line): string => words.map(one).join("");

function one({ tone, text: said }: Words): string {
  if (tone === "plain") return text(said);
  if (tone === "name" || tone === "code") return `<code>${text(said)}</code>`;
  if (tone === "strong") return `<strong>${text(said)}</strong>`;
  return `<span class="review-${tone}">${text(said)}</span>`;
}

const text = (said: string): string => xmlText(plainWords(said));
