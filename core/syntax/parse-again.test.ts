import assert from "node:assert/strict";
import { moveText } from "../../bench/documents.ts";
import { parseAgain } from "./parse-again.ts";
import { parseTree } from "./parse.ts";

type Format = "yaml" | "json";

/** Parses `before`, then what it becomes; `undefined` where the whole text has to be parsed. */
function again(before: string, after: string, format: Format = "yaml"): number | undefined {
  const found = parseAgain({ text: before, tree: parseTree(before, format) }, after, format);
  if (found) assert.deepEqual(found.tree, parseTree(after, format));
  return found?.parsed;
}

/** The same with one piece of a text put in the place of another. */
const edit = (text: string, old: string, put: string, format: Format = "yaml"): number | undefined => {
  assert.ok(text.includes(old), old);
  return again(
    text,
    text.replace(old, () => put),
    format,
  );
};

const TEN = moveText(10);

describe("parseAgain of YAML", () => {
  it("parses one item of a thousand for a value that changes", () => {
    const text = moveText(1000);
    const tree = parseTree(text, "yaml");
    for (const [old, put] of [
      ["name: k500\n", "name: lid\n"],
      ["name: k0\n", "name: k00\n"],
      ["name: k999\n", "name: k99\n"],
      ["  - at: 700 s\n", "  - at: 700.5 s\n"],
    ]) {
      assert.equal(parseAgain({ text, tree }, text.replace(old, put), "yaml")?.parsed, 1);
    }
    assert.equal(edit(moveText(100), "name: k50\n", "name: lid\n"), 1);
  });

  it("parses what is new of items that come or go, with the item before", () => {
    assert.equal(edit(TEN, "  - at: 5 s\n", "  - at: 4.5 s\n    focus: lid\n  - at: 5 s\n"), 2);
    const from = TEN.indexOf("  - at: 5 s\n");
    assert.equal(again(TEN, TEN.slice(0, from) + TEN.slice(TEN.indexOf("  - at: 6 s\n"))), 1);
  });

  it("parses the field of the root that changes, and nothing for a comment above all", () => {
    assert.equal(edit(TEN, "title: Bench 10", "title: Bench"), 1);
    assert.equal(edit(TEN, "rate: 25\n", "rate: 25\nstart: 00:00:10:00\n"), 2);
    assert.equal(edit(`# a\n${TEN}`, "# a\n", "# for the second day\n\n"), 0);
    assert.equal(edit(`${TEN}note: x\n`, "note: x\n", "note: xy\n"), 1);
  });

  it("takes comments, quotes over lines, block scalars, CRLF and characters beyond the BMP along", () => {
    const put = (more: string): number | undefined => edit(TEN, "    name: k5\n", `    name: k5\n${more}`);
    assert.equal(put("# at the margin\n      # further in\n"), 1);
    assert.equal(put("    note: 'one\n      two'\n"), 1);
    assert.equal(put("    note: |\n      - one\n\n      # two\n"), 1);
    assert.equal(put("    note: 😀\n"), 1);
    assert.equal(edit(TEN.replaceAll("\n", "\r\n"), "k5", "lid"), 1);
  });

  it("finds in an item what is broken there, without what follows", () => {
    assert.equal(edit(TEN, "    name: k5\n", "    name: k5\n    foc\n"), 1);
    assert.equal(edit(TEN, "    name: k5\n", "    name: k5\n    at: 1 s\n"), 1);
    assert.equal(edit(TEN, "at: lid, framing: [0.553", "at: lid, framing: [@"), 1);
  });

  it("leaves to the whole parse what reaches further than the item", () => {
    for (const put of ["name: 'k5", "aim: { at: lid", "name: *k", "name: k5\t", "name: k5\r  x", "name: k5\nnote: x"]) {
      assert.equal(edit(TEN, "name: k5", put), undefined, put);
    }
    for (const line of ["---", "...", "<<<<<<< ours", "x", "- x"]) {
      assert.equal(edit(TEN, "    name: k5\n", `    name: k5\n${line}\n`), undefined, line);
    }
    const anchored = TEN.replace("aim: { at: lid", "aim: { at: &t lid")
      .replace("at: spout", "at: spout")
      .concat("note: *t\n");
    assert.equal(edit(anchored, "name: k5", "name: lid"), undefined);
    assert.equal(edit(`%YAML 1.1\n---\n${TEN}`, "name: k5", "name: yes"), undefined);
    assert.equal(edit(TEN, "title: Bench 10", "rate: 24"), undefined);
  });

  it("needs a text before that was well formed", () => {
    assert.equal(edit(TEN.replace("name: k1\n", "name: 'k1\n"), "name: k5", "name: lid"), undefined);
  });
});

describe("parseAgain of JSON", () => {
  const keys = Array.from({ length: 1000 }, (_, idx) => ({ at: `${idx} s`, aim: { at: "lid", framing: [0.5, 0.5] } }));
  const text = JSON.stringify({ move: 1, keys, note: "x" }, null, 2);
  const line = JSON.stringify({ move: 1, keys: keys.slice(0, 5) });

  it("parses one item of a thousand for a value that changes", () => {
    assert.equal(edit(text, '"500 s"', '"500.5 s"', "json"), 1);
    assert.equal(edit(text, '"0 s"', '"1 f"', "json"), 1);
    assert.equal(edit(line, '"3 s"', '"30 s"', "json"), 1);
  });

  it("finds in an item what is broken there, and leaves to the whole parse what reaches further", () => {
    assert.equal(edit(text, '"500 s"', "500 s", "json"), 1);
    assert.equal(edit(text, '"500 s"', '"500 s" }', "json"), undefined);
    assert.equal(edit(text, '"500 s"', '"500 s" // here', "json"), undefined);
    assert.equal(edit(text, '"note"', '"notes"', "json"), undefined);
  });
});
