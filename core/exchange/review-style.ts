/** How a review looks inside of a page: light or dark as the reader has it, black on white on paper. All names begin with `review`. */
export const REVIEW_STYLE = `:root { color-scheme: light dark; --review-ink: #1c1e21; --review-soft: #5a6068; --review-rule: #d5d9de; --review-paper: #ffffff; --review-shade: #f3f5f7; --review-error: #b3261e; --review-warning: #8a5300; --review-good: #1b6b3a; }
@media (prefers-color-scheme: dark) {
  :root { --review-ink: #e4e6e9; --review-soft: #a3abb5; --review-rule: #3a4048; --review-paper: #17191c; --review-shade: #22262b; --review-error: #ff8a80; --review-warning: #ffb95c; --review-good: #7fd39b; }
}
@media print {
  :root { --review-ink: #000; --review-soft: #444; --review-rule: #999; --review-paper: #fff; --review-shade: #fff; --review-error: #8c0d06; --review-warning: #6b4000; --review-good: #0f4d27; }
  .review section { break-inside: avoid-page; }
  .review thead { display: table-header-group; }
}
.review h2 { font-size: 1.15rem; margin: 2rem 0 0; }
.review h3 { font-size: 1rem; font-weight: 600; margin: 0 0 0.5rem; overflow-wrap: anywhere; }
.review section { border-top: 1px solid var(--review-rule); padding: 0.9rem 0 0.4rem; margin-top: 0.7rem; }
.review p, .review ul { margin: 0 0 0.6rem; }
.review ul { padding-left: 1.2rem; }
.review li, .review p { overflow-wrap: anywhere; }
.review code { font: 0.92em ui-monospace, monospace; background: var(--review-shade); border-radius: 3px; padding: 0 0.25em; }
.review-summary { font-size: 1.15rem; }
.review-table { overflow-x: auto; margin: 0 0 0.8rem; }
.review table { border-collapse: collapse; font-variant-numeric: tabular-nums; }
.review th, .review td { text-align: left; vertical-align: top; font-weight: 400; padding: 0.2rem 1.2rem 0.2rem 0; border-bottom: 1px solid var(--review-rule); }
.review-short { white-space: nowrap; }
.review thead th { color: var(--review-soft); font-size: 0.9em; }
.review details { margin: 0 0 0.6rem; }
.review summary, .review-quiet, .review-note { color: var(--review-soft); }
.review-error { color: var(--review-error); font-weight: 600; }
.review-warning { color: var(--review-warning); font-weight: 600; }
.review-good { color: var(--review-good); }
`;

/** How a page looks that holds a review alone. */
export const REVIEW_PAGE_STYLE = `body { margin: 0; background: var(--review-paper); color: var(--review-ink); font: 15px/1.5 system-ui, sans-serif; }
main { max-width: 70rem; margin: 0 auto; padding: 1.5rem 1rem 3rem; }
h1 { font-size: 1.5rem; line-height: 1.25; margin: 0 0 0.5rem; overflow-wrap: anywhere; }
`;
