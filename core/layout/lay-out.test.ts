import assert from "node:assert/strict";
import { parseTree } from "../syntax/parse.ts";
import { DEFAULT_LAYOUT, edited, layOut, type LayoutOptions } from "./lay-out.ts";

type Format = "yaml" | "json";

function laidOut(text: string, format: Format, options: LayoutOptions = DEFAULT_LAYOUT): string {
  const parse = (version: string) => parseTree(version, format);
  const layout = layOut({ text, format, tree: parse(text), parse }, options);
  assert.ok("edits" in layout, "refusal" in layout ? layout.refusal : "");
  for (const { span, text: put } of layout.edits) {
    assert.match(text.slice(span.start, span.end), /^\s*$/, "only blanks go");
    assert.match(put, /^\s*$/, "only blanks come");
  }
  return edited(text, layout.edits);
}

type Row = readonly [what: string, before: string, after: string];

const YAML: readonly Row[] = [
  ["an empty text", "", ""],
  ["blanks after names, colons and dashes", "a:   1\nb :\t2\nc:\n  -   x\n", "a: 1\nb: 2\nc:\n  - x\n"],
  ["lists as far out as their name", "a:\n- x\n- y: 1\n  z: 2\n", "a:\n  - x\n  - y: 1\n    z: 2\n"],
  ["indentation of any depth", "a:\n     b:\n        c: 1\n     d: 2\n", "a:\n  b:\n    c: 1\n  d: 2\n"],
  ["lists in lists", "a:\n  -   - 1\n      - 2\n  -\n      - 3\n", "a:\n  - - 1\n    - 2\n  -\n    - 3\n"],
  ["blanks in brackets", "a: {b: 1,c : [ 1,2 ]  }\nd: {}\ne: [ ]\n", "a: { b: 1, c: [1, 2] }\nd: {}\ne: []\n"],
  ["lines in brackets", "a: {b: 1,\n      c: [1,\n 2]}\n", "a: { b: 1,\n  c: [1,\n    2] }\n"],
  ["a closing bracket on its own line", "a: {\n    b: 1,\n  }\n", "a:\n  {\n    b: 1,\n  }\n"],
  ["the same in a list", "a:\n- {\n   b: 1\n  }\n", "a:\n  - {\n      b: 1\n    }\n"],
  ["blank lines", "\n\na: 1\n\n\n\nb: 2\n\n\n", "a: 1\n\nb: 2\n"],
  ["blanks at line ends, and no line end", "a: 1  \nb: 2\t", "a: 1\nb: 2\n"],
  ["line ends of two letters", "a:   1\r\n\r\n\r\nb:\r\n- x", "a: 1\r\n\r\nb:\r\n  - x\r\n"],
  ["a mark of the byte order", "\ufeffa:   1\n", "\ufeffa: 1\n"],
  ["spellings", "a: 01.50  m\nb: 'x'\nc: \"y\"\nd: 1e3\ne: ~\n", "a: 01.50  m\nb: 'x'\nc: \"y\"\nd: 1e3\ne: ~\n"],
  ["comments behind", "a: 1    #x\tand\ty \nb: # z\n- 1\n", "a: 1 #x\tand\ty\nb: # z\n  - 1\n"],
  [
    "comments on their own lines, with what they stand by",
    "# head\na:\n# of a\n- x: 1\n  # in x\n     # deeper\n# between\n- y: 2\n  # in y\n# end\n",
    "# head\na:\n  # of a\n  - x: 1\n    # in x\n    # deeper\n  # between\n  - y: 2\n    # in y\n# end\n",
  ],
  [
    "texts in blocks",
    "a:\n    - b: |\n          one\n\n\n            two  \n\n\n    - c: >-\n       three\n",
    "a:\n  - b: |\n      one\n\n\n        two  \n\n  - c: >-\n      three\n",
  ],
  [
    "a block that states its indentation",
    "a:\n    b: |2\n         one\n       two\n",
    "a:\n  b: |2\n       one\n     two\n",
  ],
  ["a block that keeps its line ends", "a: |+\n    one\n\n\nb:   1\n", "a: |+\n  one\n\n\nb: 1\n"],
  ["the same at the end", "a: |+\n  one\n\n\n", "a: |+\n  one\n\n\n"],
  ["quoted texts over lines", 'a: "one   \n     two\\\n       three"\n', 'a: "one\n  two\\\n  three"\n'],
  ["plain texts over lines", "a: one\n      two\n\n     three\n", "a: one\n  two\n\n  three\n"],
  ["anchors and aliases", "a: &x   {b: 1}\nc:   *x\nd: &y\n    e: 1\n", "a: &x { b: 1 }\nc: *x\nd: &y\n  e: 1\n"],
  ["names of their own line", "?   a\n:   b\n", "? a\n: b\n"],
  ["the marks of a document", "--- # x\na:   1\n...\n", "--- # x\na: 1\n...\n"],
  ["items that hold nothing", "a:\n-\n-   x\n- # none\n", "a:\n  -\n  - x\n  - # none\n"],
  ["a JSON text in YAML", '{"a":1,"b":[1,2]}\n', '{ "a": 1, "b": [1, 2] }\n'],
];

const JSON_ROWS: readonly Row[] = [
  ["what is on one line", '{"a":1 , "b":[ 1,2 ],"c":{ }}', '{ "a": 1, "b": [1, 2], "c": {} }\n'],
  ["what is on several", '{"a":1,\n"b":[1,\n2]}', '{\n  "a": 1,\n  "b": [\n    1,\n    2\n  ]\n}\n'],
  ["a value below its name", '{\n"a":\n1}', '{\n  "a": 1\n}\n'],
  ["blank lines between items", '{\n\n"a":1,\n\n\n"b":2\n\n}', '{\n  "a": 1,\n\n  "b": 2\n}\n'],
  ["letters that look like marks", '{"a{,:":"}[\\"," }', '{ "a{,:": "}[\\"," }\n'],
  ["a mark of the byte order", '\ufeff{"a":1}', '\ufeff{ "a": 1 }\n'],
  ["line ends of two letters", '{\r\n"a":1,"b":2}', '{\r\n  "a": 1,\r\n  "b": 2\r\n}\r\n'],
  ["a value that is no map", " 1 ", "1\n"],
  [
    "a document that is one long line",
    `{"a":"${"x".repeat(90)}","b":{"c":1,"d":[1,2,3]}}`,
    `{\n  "a": "${"x".repeat(90)}",\n  "b": { "c": 1, "d": [1, 2, 3] }\n}\n`,
  ],
  [
    "a table",
    '{"k":[\n{"at":"2 s","aim":"lid","x":1},\n{"at":"10.5 s","aim":"spout","x":-20},\n{"at":"3 s"}]}',
    `{
  "k": [
    { "at":  "2 s",   "aim": "lid",   "x":   1 },
    { "at": "10.5 s", "aim": "spout", "x": -20 },
    { "at":  "3 s" }
  ]
}
`,
  ],
];

const TABLES: readonly Row[] = [
  [
    "columns, numbers by their points, comments",
    "k:\n- {at: 0 s,axes: {slide: -0.3,plate: 0},aim: lid} # one\n- {at: 10.25 s,axes: {slide: 0.15,plate: 100}} # two\n",
    `k:
  - { at:  0 s,    axes: { slide: -0.3,  plate:   0 }, aim: lid } # one
  - { at: 10.25 s, axes: { slide:  0.15, plate: 100 } }           # two
`,
  ],
  [
    "another table where fields differ",
    "k:\n- {n: a,box: [1,2],x: 1}\n- {n: bbb,ball: 10,x: 1}\n- {n: c,ball: 1,y: 12}\n",
    `k:
  - { n: a,   box: [1, 2], x: 1 }
  - { n: bbb, ball: 10, x: 1 }
  - { n: c,   ball:  1, y: 12 }
`,
  ],
  [
    "tables that a blank line or a comment parts",
    "k:\n- {a: 1, b: 2}\n\n- {a: 111, b: 2}\n# x\n- {a: 11, b: 2}\n- {a: 1, b: 2}\n",
    "k:\n  - { a: 1, b: 2 }\n\n  - { a: 111, b: 2 }\n  # x\n  - { a: 11, b: 2 }\n  - { a:  1, b: 2 }\n",
  ],
  ["lists as rows", "k:\n- [3 m,26 deg]\n- [infinity,0 deg]\n", "k:\n  - [3 m,      26 deg]\n  - [infinity,  0 deg]\n"],
  [
    "wide letters",
    "k:\n- {n: 茶,b: 1}\n- {n: abc,b: 1}\n- {n: e\u0301e,b: 1}\n",
    "k:\n  - { n: 茶,  b: 1 }\n  - { n: abc, b: 1 }\n  - { n: e\u0301e,  b: 1 }\n",
  ],
  [
    "a cell that is very long",
    `k:\n- {n: ${"x".repeat(90)},b: 1}\n- {n: a,b: 1}\n- {n: ab,b: 1}\n`,
    `k:\n  - { n: ${"x".repeat(90)}, b: 1 }\n  - { n: a,  b: 1 }\n  - { n: ab, b: 1 }\n`,
  ],
  [
    "times with colons",
    "k:\n- {at: 00:00:01:10,b: 1}\n- {at: 1 s,b: 1}\n",
    "k:\n  - { at: 00:00:01:10, b: 1 }\n  - { at: 1 s,         b: 1 }\n",
  ],
  [
    "a row that goes on",
    "k:\n- {a: 1,b: 1}\n- {a: 22,\n   b: 1}\n",
    "k:\n  - { a: 1, b: 1 }\n  - { a: 22,\n      b: 1 }\n",
  ],
];

describe("the layout of a document", () => {
  const all: readonly (readonly [string, readonly Row[], Format])[] = [
    ["YAML", YAML, "yaml"],
    ["YAML's tables", TABLES, "yaml"],
    ["JSON", JSON_ROWS, "json"],
  ];
  for (const [title, rows, format] of all) {
    for (const [what, before, after] of rows) {
      it(`of ${title}: ${what}`, () => {
        assert.equal(laidOut(before, format), after);
        assert.equal(laidOut(after, format), after, "and once more");
      });
    }
  }

  it("leaves columns as they come when it is told to", () => {
    const text = "k:\n  - { at:  0 s,   b: 1 } # x\n  - { at: 10 s, b: 1, c: 2 } # y\n";
    const now = laidOut(text, "yaml", { ...DEFAULT_LAYOUT, alignKeys: false });
    assert.equal(now, "k:\n  - { at: 0 s, b: 1 } # x\n  - { at: 10 s, b: 1, c: 2 } # y\n");
  });

  it("indents JSON as it is told to, and YAML never otherwise", () => {
    const options = { ...DEFAULT_LAYOUT, jsonStep: "\t" };
    assert.equal(laidOut('{\n"a":{\n"b":1}}', "json", options), '{\n\t"a": {\n\t\t"b": 1\n\t}\n}\n');
    assert.equal(laidOut("a:\n    b: 1\n", "yaml", options), "a:\n  b: 1\n");
  });

  it("changes the rows of a table that a new value concerns, no other line", () => {
    const rows = ["k:", "  - { a: 1, b: 1 }", "  - { a: 2, b: 1 }", "  - { a: 3, c: 1 }", "other:    # x", "  - y"];
    const text = `${rows.join("\n")}\n`;
    assert.equal(laidOut(text, "yaml"), text.replace("    # x", " # x"));
  });

  for (const [text, format, place] of [
    ["a: 1\nb: {\n", "yaml", "line 2: "],
    ["a: 1\n\tb: 1\n", "yaml", "line 2: "],
    ["a: 1\n---\nb: 1\n", "yaml", "line 2: "],
    ['{\n"a": 1,\n}', "json", "line 2: "],
    ['{ "a": 1 } // x', "json", "line 1: "],
    ["<<<<<<< a\na: 1\n=======\na: 2\n>>>>>>> b\n", "yaml", "line 1: "],
  ] as const) {
    it(`leaves a text with a fault alone and says where: ${JSON.stringify(text)}`, () => {
      const parse = (version: string) => parseTree(version, format);
      const layout = layOut({ text, format, tree: parse(text), parse }, DEFAULT_LAYOUT);
      assert.ok("refusal" in layout && layout.refusal.startsWith(place), JSON.stringify(layout));
    });
  }
});
