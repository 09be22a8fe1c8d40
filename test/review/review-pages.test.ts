import assert from "node:assert/strict";
import MarkdownIt from "markdown-it";
import { chromium, type Browser, type Page } from "playwright-core";
import { indexLines } from "../../core/syntax/lines.ts";
import { outlineReview } from "../../core/exchange/outline-review.ts";
import { renderReviewPage } from "../../core/exchange/review-html.ts";
import { renderReviewMarkdown } from "../../core/exchange/review-markdown.ts";
import type { ReviewOutline } from "../../core/exchange/review-outline.ts";
import { chromiumFlags, findChromium } from "../../scripts/testing/chromium.mjs";
import { HOSTILE, hostileReview, reviewWording } from "../fixtures/reviews.ts";
import { complaintsOf } from "../stage/axe.ts";
import { demoFiles, replaced, reviewOfFiles, withFiles, type Files } from "../support/change.ts";

/** The demo with a slower pan, one move sooner, one gone, one new and one that only says the same. */
function demoOutline(): ReviewOutline {
  const before = demoFiles();
  const move = (name: string): string => String(before.get(`moves/${name}.move.yaml`));
  let after: Files = withFiles(before, {
    "moves/once-around.move.yaml": undefined,
    "moves/once-more.move.yaml": move("round-the-pot"),
    "moves/pot-to-cup.move.yaml": `${move("pot-to-cup")}# as it was\n`,
  });
  after = replaced(after, "moves/over-the-lid.move.yaml", "at: 3 s", "at: 2.4 s");
  after = replaced(after, "kit/floor.rig.yaml", "limits: { speed: 30,", "limits: { speed: 18,");
  const sides = { before, after };
  const rangeOf = (
    place: { readonly file: string; readonly span: { readonly start: number; readonly end: number } },
    side: "before" | "after",
  ) => {
    const lines = indexLines(String(sides[side].get(place.file) ?? ""));
    return { start: lines.position(place.span.start), end: lines.position(place.span.end) };
  };
  return outlineReview(
    reviewOfFiles(before, after),
    reviewWording({ rangeOf, before: "main", notes: ["kit is a submodule"] }),
  );
}

describe("pages of reviews", function () {
  let browser: Browser;
  let page: Page;
  let outline: ReviewOutline;
  const complaints: string[] = [];
  before(async () => {
    outline = demoOutline();
    browser = await chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
    page = await browser.newPage({ viewport: { width: 1000, height: 900 } });
    page.on("console", (message) => complaints.push(message.text()));
    page.on("pageerror", (error) => complaints.push(error.message));
    page.on("dialog", (dialog) => void complaints.push(`dialog: ${dialog.message()}`));
    page.on("request", (request) => void complaints.push(`asks for ${request.url()}`));
  });
  after(() => browser.close());
  const picture = async (name: string): Promise<void> => {
    if (process.env.MOVEWRIGHT_PICTURES)
      await page.screenshot({ path: `${process.env.MOVEWRIGHT_PICTURES}/${name}.png`, fullPage: true });
  };

  for (const scheme of ["light", "dark"] as const) {
    it(`can be read by everybody in ${scheme}, on a phone too, and ask for nothing`, async () => {
      await page.emulateMedia({ colorScheme: scheme });
      await page.setContent(renderReviewPage(outline, "What changed: main → HEAD"));
      assert.deepEqual(await complaintsOf(page, scheme), []);
      const paper = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
      assert.equal(paper, scheme === "light" ? "rgb(255, 255, 255)" : "rgb(23, 25, 28)");
      await picture(`review-${scheme}`);
      await page.setViewportSize({ width: 360, height: 700 });
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      assert.ok(wide <= 360, `${wide} px wide`);
      await page.setViewportSize({ width: 1000, height: 900 });
      assert.deepEqual(complaints, []);
    });
  }

  it("print black on white, tables whole in their width", async () => {
    await page.emulateMedia({ colorScheme: "dark", media: "print" });
    await page.setContent(renderReviewPage(outline, "What changed: main → HEAD"));
    const look = await page.evaluate(() => {
      const { backgroundColor, color } = getComputedStyle(document.body);
      const cut = [...document.querySelectorAll(".review-table")].filter(
        (one) => one.scrollWidth > one.clientWidth + 1,
      );
      return { backgroundColor, color, cut: cut.length };
    });
    assert.deepEqual(look, { backgroundColor: "rgb(255, 255, 255)", color: "rgb(0, 0, 0)", cut: 0 });
    await picture("review-print");
    await page.emulateMedia({ media: "screen" });
  });

  it("run nothing that a document says, as a page and as Markdown", async () => {
    const hostile = outlineReview(
      hostileReview(),
      reviewWording({ before: HOSTILE, after: HOSTILE, notes: [HOSTILE] }),
    );
    const markdown = new MarkdownIt({ html: true, linkify: true }).render(renderReviewMarkdown(hostile));
    for (const html of [renderReviewPage(hostile, HOSTILE), `<!doctype html><body>${markdown}`]) {
      await page.setContent(html);
      const found = await page.evaluate(
        () => document.querySelectorAll("script, img, iframe, a, form, [onerror]").length,
      );
      assert.equal(found, 0);
      assert.deepEqual(complaints, []);
    }
    await picture("review-hostile");
  });

  it("show as Markdown what they show as a page: each table with its rows, each heading", async () => {
    const counts = async (html: string): Promise<Record<string, number>> => {
      await page.setContent(html);
      return page.evaluate(() =>
        Object.fromEntries(
          ["table", "tbody tr", "h3", "li", "details"].map((what) => [what, document.querySelectorAll(what).length]),
        ),
      );
    };
    const asPage = await counts(renderReviewPage(outline, "What changed"));
    const style =
      "<style>body{font:15px system-ui;margin:1rem}td,th{border:1px solid #ccc;padding:2px 8px}table{border-collapse:collapse}</style>";
    const asMarkdown = await counts(
      `<!doctype html>${style}${new MarkdownIt({ html: true }).render(renderReviewMarkdown(outline))}`,
    );
    await picture("review-markdown");
    assert.deepEqual(asMarkdown, asPage);
    assert.ok(asPage["tbody tr"] > 10 && asPage.h3 >= 5);
  });
});
