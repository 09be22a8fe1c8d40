import assert from "node:assert/strict";
import { parseTree } from "../../../core/syntax/parse.ts";
import { selectionsAt } from "./selection.ts";

/** The texts that a selection at `|` grows to. */
function grown(marked: string, format: "yaml" | "json"): string[] {
  const offset = marked.indexOf("|");
  const text = marked.replace("|", "");
  return selectionsAt({ text, tree: parseTree(text, format) }, offset).map(({ start, end }) => text.slice(start, end));
}

describe("growing a selection", () => {
  it("goes from a value to its field, its key and all keys", () => {
    const [first, second, ...rest] = grown("keys:\n  - at: 0 s\n    aim: { at: l|id, framing: [0.5, 0.4] }\n", "yaml");
    assert.deepEqual([first, second], ["lid", "at: lid"]);
    assert.deepEqual(
      rest.map((text) => text.slice(0, 12)),
      ["{ at: lid, f", "aim: { at: l", "at: 0 s\n    ", "- at: 0 s\n  ", "keys:\n  - at", "keys:\n  - at"],
    );
  });

  it("begins inside the quotes", () => {
    const all = grown('{ "keys": [{ "at": "2|.4 s" }] }', "json");
    assert.deepEqual(all, [
      "2.4 s",
      '"2.4 s"',
      '"at": "2.4 s"',
      '{ "at": "2.4 s" }',
      '[{ "at": "2.4 s" }]',
      '"keys": [{ "at": "2.4 s" }]',
      '{ "keys": [{ "at": "2.4 s" }] }',
    ]);
  });

  it("takes a name, a comment, and in blank text everything", () => {
    assert.deepEqual(grown("ra|te: 25\n", "yaml"), ["rate", "rate: 25", "rate: 25\n"]);
    assert.deepEqual(grown("rate: 25 # fi|lm\n", "yaml"), ["# film", "rate: 25 # film\n"]);
    assert.deepEqual(grown("\n|\n", "yaml"), ["\n\n"]);
  });
});
