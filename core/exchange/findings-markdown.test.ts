import assert from "node:assert/strict";
import { DOMParser, type Document, type Element } from "@xmldom/xmldom";
import MarkdownIt from "markdown-it";
import { finding, moveDocument, ODD_TEXT, report, TOP } from "../../test/fixtures/check-report.ts";
import type { CheckReport } from "./check-report.ts";
import { byteLength } from "./cut-rows.ts";
import { MOST_BYTES, renderMarkdown } from "./findings-markdown.ts";
import { markdownMessage, markdownText } from "./markdown-text.ts";

/** CommonMark and tables, addresses made links and HTML let through, as a host does. */
const host = new MarkdownIt({ html: true, linkify: true, typographer: false, xhtmlOut: true });

function rendered(markdown: string): Document {
  const html = `<body>${host.render(markdown)}</body>`;
  return new DOMParser({ onError: (_level, message) => assert.fail(`${message}\n${html}`) }).parseFromString(
    html,
    "text/html",
  );
}

const all = (document: Document, tag: string): Element[] => [...document.getElementsByTagName(tag)];

/** Cells of each row, as they are read. */
const tables = (document: Document): string[][][] =>
  all(document, "tbody").map((body) =>
    [...body.getElementsByTagName("tr")].map((row) =>
      [...row.getElementsByTagName("td")].map((cell) => (cell.textContent ?? "").replaceAll("\u200b", "")),
    ),
  );

describe("a summary in Markdown", () => {
  it("has the findings, the worse first, and the moves, the nearest to a limit first", () => {
    const near = finding({ severity: "information", code: "near-limit", message: "Near." });
    const calm = { ...moveDocument([near], "calm"), move: { ...moveDocument([]).move!, worst: { share: 0.5, axis: "pan", of: "accel" as const, at: 1 } } }; // prettier-ignore
    const document = rendered(renderMarkdown(report([calm, moveDocument([finding()])])));
    assert.match(all(document, "h2")[0].textContent ?? "", /^Movewright: 1 error, 1 note$/);
    const [findings, moves] = tables(document);
    assert.deepEqual(
      findings.map(([severity, place]) => [severity, place]),
      [
        ["error", "moves/lid.move.yaml:8"],
        ["note", "moves/lid.move.yaml:8"],
      ],
    );
    assert.match(findings[0][2], /^slide reaches 0\.94 m\/s, 88 % above its limit of 0\.5 m\/s\. axis-speed$/);
    assert.deepEqual(
      moves.map((cells) => cells.slice(0, 4)),
      [
        ["moves/lid.move.yaml Lid", "188 % of speed of slide at 0.3 s", "2 s", "1 error"],
        ["moves/calm.move.yaml Lid", "50 % of acceleration of pan at 1 s", "2 s", "1 note"],
      ],
    );
    assert.match(document.documentElement?.textContent ?? "", /isn't one that is safe/);
  });

  it("folds what is allowed or known, and tells changes that break moves", () => {
    const change = {
      file: `${TOP}/kit/slider.rig.yaml`,
      range: { start: { line: 4, character: 40 }, end: { line: 4, character: 47 } },
      severity: "error" as const,
      change: "`chain.slide.limits.speed` was 0.5 m/s and is 0.2 m/s",
      breaks: [`${TOP}/moves/lid.move.yaml`],
      findings: [finding()],
    };
    const findings = [finding(), finding({ allowed: "it is | meant", severity: "hint" }), finding({ known: "base" })];
    const document = rendered(renderMarkdown(report([moveDocument(findings)], { since: "main", breaking: [change] })));
    const [item] = all(document, "li");
    assert.match(
      (item.textContent ?? "").replaceAll("\u200b", ""),
      /^kit\/slider\.rig\.yaml:5 chain\.slide\.limits\.speed was .*: this change breaks 1 move: moves\/lid\.move\.yaml\.$/,
    );
    const [counted, , folded] = tables(document);
    assert.equal(counted.length, 1);
    assert.deepEqual(
      folded.map((cells) => cells[3]),
      ["known (base)", "allowed: it is | meant"],
    );
    assert.match(
      document.documentElement?.textContent ?? "",
      /compared with main\. 1 known finding not counted\. 1 allowed/,
    );
  });

  it("keeps to what a host takes and counts the rest", () => {
    const many = Array.from({ length: 4_000 }, () => finding({ message: "é".repeat(400) }));
    const documents = Array.from({ length: 3_000 }, (_, i) =>
      moveDocument(i === 0 ? many : [], `move ${i} ${"x".repeat(200)}`),
    );
    const text = renderMarkdown(report(documents));
    assert.ok(byteLength(text) <= MOST_BYTES, String(byteLength(text)));
    assert.equal(byteLength(text), Buffer.byteLength(text));
    const left = [...text.matchAll(/^… and (\d+) more\.$/gm)].map(([, count]) => Number(count));
    const kept = tables(rendered(text)).map((rows) => rows.length);
    assert.deepEqual(
      kept.map((rows, i) => rows + left[i]),
      [4_000, 3_000],
    );
  });

  it("takes text of documents as words: no markup, no HTML, no link, no mention, no other cell", () => {
    const odd = { ...moveDocument([finding({ message: ODD_TEXT, allowed: ODD_TEXT }), finding({ message: ODD_TEXT })]), file: `${TOP}/${ODD_TEXT}.move.yaml` }; // prettier-ignore
    const titled = { ...odd, move: { ...odd.move!, title: ODD_TEXT, worst: { share: 2, axis: ODD_TEXT, of: "speed" as const, at: 0 } } }; // prettier-ignore
    const told: CheckReport = report([titled], { since: ODD_TEXT, baseline: ODD_TEXT });
    const document = rendered(renderMarkdown(told));
    for (const tag of ["script", "a", "img"]) assert.deepEqual(all(document, tag), [], tag);
    // The page's own words are emphasised once, at its end.
    assert.equal(all(document, "em").length, 1);
    for (const [i, rows] of tables(document).entries())
      for (const cells of rows) assert.equal(cells.length, [3, 4, 4][i]);
    const text = document.documentElement?.textContent ?? "";
    assert.ok(text.replaceAll("\u200b", "").includes("<script>alert(1)</script> | ::error::x %0A ]]>"), text);
    assert.doesNotMatch(text, /@potter|#12|http:\/\/odd/, "a host makes mentions, references and links of these");
  });

  it("takes addresses, mentions and shorthands of hosts apart, and nothing else", () => {
    const seen = (text: string): string =>
      (rendered(`x ${markdownText(text)}`).documentElement?.textContent ?? "").trim();
    for (const text of ["www.odd.example", "https://odd.example", "mailto:a@odd.example", "GH-12", "#12", ":tada:"]) {
      assert.notEqual(seen(text), `x ${text}`);
      assert.equal(seen(text).replaceAll("\u200b", ""), `x ${text}`);
    }
    for (const text of [
      "at 01:00:00:12 (frame 12): 4.5 times",
      "a - b + c = 3^2 {x}",
      "moves/lid.move.yaml:8:20",
      "\"q\" 'r'",
    ])
      assert.equal(seen(text), `x ${text}`);
    assert.equal(markdownMessage("`a|b` and `c`"), "<code>a&#124;b</code> and <code>c</code>");
  });
});
