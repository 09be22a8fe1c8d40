import assert from "node:assert/strict";
import { parseTree } from "../../../core/syntax/parse.ts";
import { foldsOf } from "./folding.ts";

const YAML = `# A pot
# and its lid
move: 1
keys: # in order
  - at: 0 s
    name: top
    aim: { at: lid, framing: [0.5, 0.4] }
  # not alone
  - { at: 2 s, axes: { slide: 1 } }
  - after: 2 s
    axes:
      slide: 1
passes: [
  { name: one },
]
`;

/** First and last line, what is said instead. */
const shown = (text: string, format: "yaml" | "json") =>
  foldsOf({ text, tree: parseTree(text, format) }).map(({ start, end, kind, summary }) => {
    const line = (offset: number) => text.slice(0, offset).split("\n").length - 1;
    return `${line(start)}-${line(end)} ${kind}: ${summary}`;
  });

describe("folding", () => {
  it("folds lists, keys and fields of several lines, and runs of comments", () => {
    assert.deepEqual(shown(YAML, "yaml"), [
      "3-11 region: 3 items",
      "4-6 region: name: top, at: 0 s, aim: { at: lid, framing: [0.5, 0.4] }",
      "9-11 region: after: 2 s",
      "10-11 region: slide",
      "12-13 region: 1 item",
      "0-1 comment: # A pot",
    ]);
  });

  it("folds JSON", () => {
    const text = '{\n  "move": 1,\n  "keys": [\n    {\n      "at": 0\n    }\n  ]\n}\n';
    assert.deepEqual(shown(text, "json"), ["2-5 region: 1 item", "3-4 region: at: 0"]);
  });

  it("keeps a closing bracket in sight, whatever ends the lines, and folds none of two lines", () => {
    assert.deepEqual(shown('{\r\n  "keys": [\r\n    1,\r\n    2\r\n  ]\r\n}\r\n', "json"), ["1-3 region: 2 items"]);
    assert.deepEqual(shown("keys: [\n]\n", "yaml"), []);
  });

  it("folds nothing of what stands on one line, and of no text", () => {
    assert.deepEqual(shown("move: 1\nkeys: []\n", "yaml"), []);
    assert.deepEqual(shown("", "yaml"), []);
  });
});
