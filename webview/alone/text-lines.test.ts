import assert from "node:assert/strict";
import { indexLines } from "../../core/syntax/lines.ts";
import { lineAt, linesOf, stretchesOf } from "./text-lines.ts";

const TEXT = "keys:\r\n  - at: 0 s\n    name: é\r  # end\n\n";

describe("lines of a text", () => {
  it("are those that the engine counts", () => {
    const lines = linesOf(TEXT);
    const index = indexLines(TEXT);
    assert.deepEqual(
      lines.map(({ text }) => text),
      ["keys:", "  - at: 0 s", "    name: é", "  # end", "", ""],
    );
    assert.equal(lines.length, index.count);
    for (let offset = 0; offset <= TEXT.length; offset++) {
      assert.equal(lineAt(lines, offset), index.position(offset).line, `offset ${offset}`);
    }
  });

  it("give what of each of them lies in a place", () => {
    const lines = linesOf(TEXT);
    const from = TEXT.indexOf("at:");
    const told = (start: number, end: number): string[] =>
      stretchesOf(lines, start, end).map(({ line, from, to }) => `${line} ${lines[line].text.slice(from, to)}`);
    assert.deepEqual(told(from, TEXT.indexOf("é") + 1), ["1 at: 0 s", "2 name: é"]);
    assert.deepEqual(told(from, from + 2), ["1 at"]);
    assert.deepEqual(told(from, from), ["1 "]);
    assert.deepEqual(told(TEXT.length, TEXT.length), ["5 "]);
    assert.deepEqual(told(0, TEXT.length), ["0 keys:", "1 - at: 0 s", "2 name: é", "3 # end"]);
  });
});
