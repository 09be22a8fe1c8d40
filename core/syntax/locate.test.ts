import assert from "node:assert/strict";
import fc from "fast-check";
import { indexLines } from "./lines.ts";
import { nodeAt, pathAt } from "./locate.ts";
import { parseTree } from "./parse.ts";

describe("pathAt", () => {
  const at = (marked: string): { path: string; onName: boolean } => {
    const offset = marked.indexOf("$0");
    const tree = parseTree(marked.replace("$0", ""), "yaml");
    const { path, onName } = pathAt(tree, offset);
    return { path: path.join("/"), onName };
  };

  it("finds the innermost value, names and ends of words included", () => {
    assert.deepEqual(at("keys:\n  - at: 0\n    aim: { at: l$0id }\n"), { path: "keys/0/aim/at", onName: false });
    assert.deepEqual(at("keys:\n  - at: 0\n    aim: { at: lid$0 }\n"), { path: "keys/0/aim/at", onName: false });
    assert.deepEqual(at("keys:\n  - at: 0\n    a$0im: { at: lid }\n"), { path: "keys/0/aim", onName: true });
    assert.deepEqual(at("keys:\n  - at: 0\n    framing: [0.5, 0.$04]\n"), { path: "keys/0/framing/1", onName: false });
    assert.deepEqual(at("title: x\n\n$0\nkeys: []\n"), { path: "", onName: false });
  });

  it("is undone by nodeAt, through aliases too", () => {
    const text = "a: &x { b: [1, 2] }\nc: *x\n";
    const tree = parseTree(text, "yaml");
    const node = nodeAt(tree, ["c", "b", 1]);
    assert.equal(node && text.slice(node.start, node.end), "2");
    assert.equal(nodeAt(tree, ["c", "z"]), undefined);
    assert.equal(nodeAt(tree, ["a", 0]), undefined);
  });
});

describe("indexLines", () => {
  it("agrees with counting line ends one by one", () => {
    const text = fc.string({ unit: fc.constantFrom("a", "😀", "\n", "\r\n", "\r"), maxLength: 40 });
    fc.assert(
      fc.property(text, fc.nat(50), (written, offset) => {
        const inside = Math.min(offset, written.length);
        const lines = indexLines(written);
        const before = written.slice(0, inside);
        // A cut between \r and \n has not ended the line yet.
        const whole = before.endsWith("\r") && written[inside] === "\n" ? before.slice(0, -1) : before;
        const ends = whole.match(/\r\n|\n|\r/g)?.length ?? 0;
        assert.equal(lines.position(offset).line, ends);
        assert.equal(lines.count, (written.match(/\r\n|\n|\r/g)?.length ?? 0) + 1);
        const { line, character } = lines.position(offset);
        assert.equal(lines.start(line) + character, inside);
      }),
      { seed: 3, numRuns: 3000 },
    );
  });

  it("takes what is beyond the text or the line as their ends", () => {
    const lines = indexLines("ab\r\ncd");
    assert.equal(lines.offset({ line: 0, character: 99 }), 2);
    assert.equal(lines.offset({ line: 9, character: 0 }), 6);
    assert.equal(lines.offset({ line: -1, character: 3 }), 0);
    assert.deepEqual(lines.position(99), { line: 1, character: 2 });
  });
});
