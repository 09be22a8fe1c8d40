import { plainWords } from "../../core/base/plain-words.ts";
import { xmlText } from "../../core/base/xml-text.ts";
import { REVIEW_PAGE_STYLE, REVIEW_STYLE } from "../../core/exchange/review-style.ts";

/** Text of documents on one line, escaped: the only way in which it comes into a page. */
export const words = (text: string): string => xmlText(plainWords(text));

export const CAUTION =
  "Movewright never says that a move is safe, and a move without findings isn’t one that is: keep to the rig’s manual, local rules and codes, and competent people with an emergency stop in reach.";

const STYLE = `${REVIEW_STYLE}${REVIEW_PAGE_STYLE}
:root { --graph-line: #1a66c2; --graph-before: #8f5a1d; }
@media (prefers-color-scheme: dark) { :root { --graph-line: #7db4ff; --graph-before: #e0a868; } }
@media print { :root { --graph-line: #0b4a99; --graph-before: #6b3f0c; } }
a { color: inherit; text-underline-offset: 0.15em; }
h2 { font-size: 1.15rem; margin: 2rem 0 0.5rem; break-after: avoid; overflow-wrap: anywhere; }
.caution { border-left: 3px solid var(--review-warning); padding: 0.2rem 0 0.2rem 0.8rem; margin: 0.8rem 0; }
.facts { display: grid; grid-template-columns: max-content 1fr; gap: 0.15rem 1.2rem; margin: 0.8rem 0; }
.facts dt { color: var(--review-soft); } .facts dd { margin: 0; overflow-wrap: anywhere; }
.pictures { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(20rem, 100%), 1fr)); gap: 1rem; }
figure { margin: 0; break-inside: avoid; } figure img { display: block; width: 100%; height: auto; background: #fff; }
figcaption { color: var(--review-soft); font-size: 0.9em; }
.graph { display: block; width: 100%; max-width: 45rem; height: auto; margin: 0 0 0.8rem; break-inside: avoid; }
.graph path { fill: none; } .graph-rule { stroke: var(--review-rule); } .graph-key { stroke: var(--review-soft); stroke-dasharray: 2 3; }
.graph-limit { stroke: var(--review-error); stroke-dasharray: 10 4; } .graph-now { stroke: var(--graph-line); stroke-width: 2; }
.graph-edge { stroke: var(--graph-line); stroke-width: 0.8; } .graph-before { stroke: var(--graph-before); stroke-width: 1.6; stroke-dasharray: 6 3; }
@page { margin: 14mm; }
@media print { main { max-width: none; padding: 0; } .review-table { overflow: visible; } .review table { font-size: 0.8em; } .review th, .review td { padding-right: 0.6rem; } a[href^="../stages"]::after { content: " (" attr(href) ")"; } tr { break-inside: avoid; } }
`;

/** A page of the report, which brings its own style. @param body HTML. */
export function reportPage(title: string, body: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src 'self' file:">
<meta name="color-scheme" content="light dark">
<meta name="generator" content="Movewright report">
<title>${words(title)}</title>
<style>
${STYLE}</style>
</head>
<body>
<main class="review">
<h1>${words(title)}</h1>
${body}
</main>
</body>
</html>
`;
}

/** A figure with its unit stays on one line [letters]. */
const SHORT = 30;

/** A table of cells that are HTML; the first of each row names it. It scrolls where it is wider than the page. */
export function htmlTable(label: string, head: readonly string[], rows: readonly (readonly string[])[]): string {
  const titles = head.map((title) => `<th scope="col">${words(title)}</th>`).join("");
  const lines = rows.map(([first, ...rest]) => `<tr><th scope="row">${first}</th>${rest.map((cell) => `<td${cell.length <= SHORT ? ' class="review-short"' : ""}>${cell}</td>`).join("")}</tr>`); // prettier-ignore
  return `<div class="review-table" tabindex="0" role="region" aria-label="${words(label)}"><table>\n<thead><tr>${titles}</tr></thead>\n<tbody>\n${lines.join("\n")}\n</tbody>\n</table></div>`;
}
