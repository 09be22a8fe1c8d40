import assert from "node:assert/strict";
import { DOMParser, type Document, type Element } from "@xmldom/xmldom";
import MarkdownIt from "markdown-it";
import {
  documentReview,
  fieldChange,
  findingReview,
  HOSTILE,
  hostileReview,
  moveReview,
  reviewWording,
} from "../../test/fixtures/reviews.ts";
import { plainWords } from "../base/plain-words.ts";
import type { Review } from "../review/review.ts";
import { outlineReview } from "./outline-review.ts";
import { renderReviewPage } from "./review-html.ts";
import { reviewAnswer } from "./review-json.ts";
import { renderReviewMarkdown } from "./review-markdown.ts";
import { renderReviewText } from "./review-text.ts";

/** CommonMark and tables, addresses made links and HTML let through, as a host does (https://github.com/markdown-it/markdown-it). */
const host = new MarkdownIt({ html: true, linkify: true, typographer: false, xhtmlOut: true });

const text = (review: Review, wording = reviewWording()): string =>
  renderReviewText(outlineReview(review, wording), (_tone, words) => words);
const first = (review: Review): string => text(review).split("\n")[0];
const parsed = (html: string): Document =>
  new DOMParser({ onError: (_level, message) => assert.fail(message) }).parseFromString(html, "text/html");
const all = (document: Document, tag: string): Element[] => [...document.getElementsByTagName(tag)];
const read = (element: Element): string => (element.textContent ?? "").replaceAll("\u200b", "");

const changed = moveReview({ file: "/studio/moves/c.move.yaml", motion: "changed", isTextSame: false });
const broken = moveReview({ file: "/studio/moves/b.move.yaml", motion: "changed", findings: [findingReview("new")] });

describe("a review in words", () => {
  it("begins with what it comes to", () => {
    const same = moveReview();
    const none = { moves: [], documents: [] };
    assert.equal(first(none), "nothing changed in documents");
    assert.equal(first({ moves: [same], documents: [] }), "no motion change");
    assert.equal(first({ moves: [same, same], documents: [] }), "no motion change in 2 moves");
    assert.equal(first({ moves: [], documents: [documentReview()] }), "no move is touched");
    const many = { moves: [changed, broken, changed, same, same, same, same], documents: [] };
    assert.equal(first(many), "3 moves changed, 1 has new errors; no motion change in 4");
    const warned = moveReview({ findings: [findingReview("new", "warning")] });
    assert.equal(first({ moves: [warned], documents: [] }), "1 move has new warnings; no motion change");
    const odd = {
      moves: [moveReview({ state: "added", motion: "changed" }), moveReview({ motion: "unknown" })],
      documents: [],
    };
    assert.equal(first(odd), "1 move added, 1 move can't be compared");
  });

  it("tells the worst first", () => {
    const moves = [
      moveReview({ file: "/studio/moves/a.move.yaml" }),
      changed,
      moveReview({ file: "/studio/moves/u.move.yaml", motion: "unknown", problem: { after: "`rate` is missing." } }),
      broken,
      moveReview({ file: "/studio/moves/w.move.yaml", findings: [findingReview("new", "warning")] }),
    ];
    const said = text({ moves, documents: [documentReview()] });
    const order = ["b.move", "u.move", "w.move", "c.move", "a.move", "arm.rig"].map((name) => said.indexOf(name, 100));
    assert.deepEqual(
      order,
      [...order].sort((a, b) => a - b),
    );
    assert.match(
      said,
      /u\.move\.yaml Rise: the motion can't be compared\n {2}It can't be solved in HEAD: `rate` is missing\./,
    );
  });

  it("says what was, what is and by how much, with the key that is near", () => {
    const move = moveReview({
      motion: "changed",
      isTextSame: false,
      timeline: [
        { key: "low", at: 0 },
        { key: "rise", at: 2.4 },
      ],
      fields: [{ ...fieldChange("rate", "24", "25") }],
      keys: [
        {
          key: "rise",
          state: "changed",
          renamedFrom: "up",
          time: { before: 2, after: 2.4, dimension: "time" },
          fields: [
            { ...fieldChange("axes.pan", "12 deg", "12.0001 deg"), by: (1e-4 * Math.PI) / 180, dimension: "angle" },
          ],
          place: {},
        },
      ],
      effects: {
        duration: { before: 2, after: 2.4, dimension: "time" },
        axes: [],
        path: {
          byTime: { value: 0.132, at: 1.5, dimension: "length" },
          byShare: { value: 1e-12, at: 1.5, dimension: "length" },
        },
        framing: [{ target: "lid", largest: { value: 34.24, at: 2.4, dimension: "pixels" } }],
        clearance: { before: 0.5, after: 0.45, dimension: "length" },
      },
    });
    const lines = text({ moves: [move], documents: [] })
      .split("\n")
      .map((line) => line.trim().replace(/ {2,}/g, " | "));
    for (const wanted of [
      "rate | 24 | 25",
      "key `rise` renamed | `up` | `rise`",
      "key `rise` at | 2 s | 2.4 s | +0.4 s",
      "key `rise` axes.pan | 12 deg | 12.0001 deg | +0.0001 deg",
      "duration | 2 s | 2.4 s | +0.4 s",
      "camera path | up to 0.132 m | at 1.5 s, on the way to `rise`",
      "framing of `lid` | up to 34.2 px | at 2.4 s, key `rise`",
      "least clearance | 0.5 m | 0.45 m | -50 mm",
    ]) {
      assert.ok(lines.includes(wanted), `${wanted}\n\n${lines.join("\n")}`);
    }
    assert.ok(!lines.some((line) => line.includes("time left aside")));
  });

  it("lists of a rig the moves that it changes and how, and those that it does not", () => {
    const axis = {
      axis: "pan",
      type: "rotary",
      share: { before: 0.73, after: 1.09, dimension: "share" },
      of: { before: "speed", after: "speed" },
      at: { before: 1, after: 1 },
    } as const;
    const effects = { duration: { before: 1, after: 1, dimension: "time" }, axes: [axis], framing: [] } as const;
    const quiet = moveReview({ file: "/studio/moves/q.move.yaml" });
    const rig = documentReview({
      moves: [broken.file, quiet.file],
      fields: [fieldChange("chain.pan.limits.speed", "30 deg/s", "20 deg/s")],
    });
    const said = text({ moves: [{ ...broken, effects }, quiet], documents: [rig] });
    assert.match(said, /kit\/arm\.rig\.yaml: rig changed, 1 move of 2 affected\n/);
    assert.match(said, /moves\/b\.move\.yaml: motion changed, 1 new error, `pan` from 73 % to 109 % of its limits\n/);
    assert.match(said, /no motion change: moves\/q\.move\.yaml\n/);
  });

  it("says of a shoot and of a file that is only written in another way what they are", () => {
    const documents = [
      documentReview({ file: "/studio/day.shoot.yaml", kind: "shoot", isTextSame: true, isMeaningSame: true }),
      documentReview({ isMeaningSame: true, moves: [moveReview().file] }),
      documentReview({ file: "/studio/kit/b.rig.yaml", state: "added" }),
    ];
    const said = text({ moves: [moveReview()], documents });
    assert.match(said, /^day\.shoot\.yaml: shoot as written before$/m);
    assert.match(said, /^kit\/arm\.rig\.yaml: rig only said in another way, no motion change in 1 move that uses it$/m);
    assert.match(said, /^kit\/b\.rig\.yaml: rig added, no move uses it$/m);
  });

  it("does not call allowed findings new errors, and counts what stays", () => {
    const allowed = findingReview("new");
    const findings = [
      { ...allowed, finding: { ...allowed.finding, allowed: "rig is \u001b[2J new" } },
      findingReview("still"),
      findingReview("still", "hint"),
    ];
    const said = text({ moves: [moveReview({ findings })], documents: [] });
    assert.match(said, /^no motion change\n/);
    assert.match(said, /new error moves\/rise\.move\.yaml:2 `axis-speed` .*\(allowed: rig is \\x1b\[2J new\)/);
    assert.match(said, /still there: 1 error, 1 note/);
  });
});

describe("hostile text in a review", () => {
  const review = hostileReview();
  const wording = reviewWording({ before: HOSTILE, after: HOSTILE, notes: [HOSTILE] });
  const outline = outlineReview(review, wording);

  it("steers no terminal and stays on its line", () => {
    const said = text(review, wording);
    // eslint-disable-next-line no-control-regex -- it is these that are looked for
    assert.doesNotMatch(said, /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/);
    assert.ok(said.includes(plainWords(HOSTILE)));
    assert.ok(!said.split("\n").some((line) => /^\s*second/.test(line)));
  });

  it("is words in Markdown: no markup, link, mention or reference, and tables keep their columns", () => {
    const markdown = renderReviewMarkdown(outline);
    const document = parsed(`<body>${host.render(markdown)}</body>`);
    for (const tag of ["script", "img", "a", "s", "pre"]) assert.equal(all(document, tag).length, 0, tag);
    const rows = all(document, "tr");
    assert.ok(rows.length > 8);
    for (const table of all(document, "table")) {
      const counts = [...table.getElementsByTagName("tr")].map((row) => [...row.childNodes].filter((node) => /^t[hd]$/.test(node.nodeName)).length); // prettier-ignore
      assert.equal(new Set(counts).size, 1, counts.join());
    }
    assert.ok(all(document, "td").some((cell) => read(cell) === plainWords(HOSTILE)));
    assert.doesNotMatch(markdown, /(^|[^&])#\d|@somebody|GH-3|https?:\/\/x/m);
    assert.equal(all(document, "details").length, 1);
  });

  it("is words on a page", () => {
    const html = renderReviewPage(outline, `What changed: ${HOSTILE}`);
    const document = parsed(html);
    for (const tag of ["script", "img", "a"]) assert.equal(all(document, tag).length, 0, tag);
    assert.ok(all(document, "td").some((cell) => cell.textContent === plainWords(HOSTILE)));
    assert.ok((all(document, "h1")[0].textContent ?? "").includes(plainWords(HOSTILE)));
  });

  it("goes through JSON unharmed", () => {
    const answer = JSON.parse(JSON.stringify(reviewAnswer(review, wording)));
    assert.equal(answer.moves[0].title, HOSTILE);
    assert.equal(answer.moves[0].keys[2].fields[0].was, HOSTILE);
  });
});

describe("a review as data", () => {
  it("has the units that people read, and leaves out what is unbounded or absent", () => {
    const move = moveReview({
      effects: {
        duration: { before: 1, dimension: "time" },
        axes: [
          {
            axis: "pan",
            type: "rotary",
            share: { before: 0.5, after: Infinity, dimension: "share" },
            of: { before: "speed", after: "jerk" },
            at: { before: 1, after: 2 },
            largest: { value: Math.PI / 2, at: 1, dimension: "angle" },
          },
        ],
        framing: [],
      },
    });
    const { version, before, after, moves } = reviewAnswer({ moves: [move], documents: [] }, reviewWording()) as {
      version: number;
      before: string;
      after: string;
      moves: { path: string; motion: string; effects: unknown }[];
    };
    assert.deepEqual({ version, before, after }, { version: 1, before: "main", after: "HEAD" });
    assert.equal(moves[0].path, "moves/rise.move.yaml");
    assert.deepEqual(moves[0].effects, {
      duration: { before: 1, unit: "s" },
      axes: [
        {
          axis: "pan",
          type: "rotary",
          share: { before: 50, unit: "%" },
          of: { before: "speed", after: "jerk" },
          at: { before: 1, after: 2 },
          largest: { value: 90, unit: "deg", at: 1 },
        },
      ],
      framing: [],
    });
  });

  it("in Markdown keeps to the room that there is, and says how much is left out", () => {
    const moves = Array.from({ length: 50 }, (_, i) =>
      moveReview({ ...broken, file: `/studio/moves/m${i}.move.yaml` }),
    );
    const outline = outlineReview({ moves, documents: [] }, reviewWording());
    const short = renderReviewMarkdown(outline, 4_000);
    assert.ok(Buffer.byteLength(short) <= 4_000);
    assert.match(short, /… and \d+ more, which don't fit here\./);
    assert.doesNotMatch(renderReviewMarkdown(outline), /don't fit/);
  });
});
