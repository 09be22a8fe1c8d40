import assert from "node:assert/strict";
import { parseTree } from "../syntax/parse.ts";
import { layOutLines, layOutTyped } from "./lay-out-part.ts";
import { DEFAULT_LAYOUT, edited } from "./lay-out.ts";

function laid(text: string, format: "yaml" | "json" = "yaml") {
  const parse = (version: string) => parseTree(version, format);
  return { text, format, tree: parse(text), parse };
}

/** `text` with the lines between two `|` laid out. */
function linesLaidOut(marked: string): string {
  const [before, middle, after] = marked.split("|");
  const text = before + middle + after;
  const span = { start: before.length, end: before.length + middle.length };
  return edited(text, layOutLines(laid(text), DEFAULT_LAYOUT, span));
}

/** `text` after somebody typed what stands before `|`, the cursor marked where it is then. */
function typed(marked: string, format: "yaml" | "json" = "yaml"): string {
  const cursor = marked.indexOf("|");
  const text = marked.replace("|", "");
  // An editor that indents a new line by itself asks when it has done so.
  const letter = /\n[ \t]*$/.test(text.slice(0, cursor)) ? "\n" : text[cursor - 1];
  const edits = layOutTyped(laid(text, format), DEFAULT_LAYOUT, { letter, cursor });
  const now = edited(text, edits);
  const shift = edits
    .filter(({ span }) => span.end < cursor)
    .reduce((sum, { span, text: put }) => sum + put.length - (span.end - span.start), 0);
  return `${now.slice(0, cursor + shift)}|${now.slice(cursor + shift)}`;
}

describe("laying out some lines", () => {
  it("changes those lines alone", () => {
    assert.equal(linesLaidOut("a:   1\nb|:   2|  \nc:   3\n"), "a:   1\nb: 2\nc:   3\n");
    assert.equal(linesLaidOut("a:   1\n|b:   2\nc:|   3\nd:   4"), "a:   1\nb: 2\nc: 3\nd:   4");
  });

  it("indents them where the document says the same then", () => {
    assert.equal(linesLaidOut("a:\n  |b:\n      c: 1|\nd:   2\n"), "a:\n  b:\n    c: 1\nd:   2\n");
  });

  it("leaves their indentation where they would fall out of what they stand in", () => {
    assert.equal(linesLaidOut("a:\n    b: 1\n    |c:   2|\n    d: 3\n"), "a:\n    b: 1\n    c: 2\n    d: 3\n");
  });

  it("does nothing in a text with a fault", () => {
    assert.equal(linesLaidOut("|a:   1|\nb: [\n"), "a:   1\nb: [\n");
  });
});

const TYPED: readonly (readonly [what: string, before: string, after: string])[] = [
  ["the line that is left", "a:   1  \n|", "a: 1\n|"],
  ["not the line that is come to", "a:   1\n    |\nb:   2\n", "a: 1\n    |\nb:   2\n"],
  ["no indentation", "k:\n-   at:   1\n    |x:   2\n", "k:\n-   at: 1\n    |x:   2\n"],
  ["nothing of other lines", "a:   1\nb:   2\n|", "a:   1\nb: 2\n|"],
  ["the row that is closed", "k:\n  - {at: 1 s,x: 2}|\n", "k:\n  - { at: 1 s, x: 2 }|\n"],
  [
    "the table that a row belongs to",
    "k:\n  - { at: 1 s, x: 2 }\n  - { at: 10 s,x: 2 }|\n  - { at: 100 s, x: 2 }\n",
    "k:\n  - { at:   1 s, x: 2 }\n  - { at:  10 s, x: 2 }|\n  - { at: 100 s, x: 2 }\n",
  ],
  [
    "the table above a new line, not what is below",
    "k:\n  - { at: 1 s, x: 2 }\n  - { at: 10 s,x: 2 }\n  |\n  - { at: 100 s,x: 2 }\n",
    "k:\n  - { at:  1 s, x: 2 }\n  - { at: 10 s, x: 2 }\n  |\n  - { at: 100 s,x: 2 }\n",
  ],
  ["nothing while a bracket is open", "k:\n  - { at:   1 s,\n|", "k:\n  - { at:   1 s,\n|"],
  ["nothing of a text in a block", "a: |-\n  x:    1\n  |\n".replace("|-", ">-"), "a: >-\n  x:    1\n  |\n"],
  ["lines that end in two letters", "k:\r\n  - {a:  1}\r\n|", "k:\r\n  - { a: 1 }\r\n|"],
  ["nothing in the first line before one is left", "\n|a:   1\n", "\n|a:   1\n"],
];

describe("laying out while somebody types", () => {
  for (const [what, before, after] of TYPED) {
    it(`changes ${what}`, () => assert.equal(typed(before), after));
  }

  it("leaves a table of very many rows to the formatting of the document", () => {
    const rows = "  - { at: 1 s, x: 2 }\n".repeat(500);
    const text = `k:\n${rows}  - {at: 10 s,x: 2}|\n`;
    assert.equal(typed(text), text);
  });

  it("does the same in JSON", () => {
    assert.equal(
      typed('{\n    "a":   {"b":1},\n    |"c": 2\n}\n', "json"),
      '{\n    "a": { "b": 1 },\n    |"c": 2\n}\n',
    );
  });
});
