import assert from "node:assert/strict";
import { merge, MOVE, SET, swapped } from "../../test/support/merge-sides.ts";
import { MAX_TEXT } from "../syntax/caps.ts";
import { mergeTexts, type MergedTexts } from "./merge-texts.ts";

describe("lines of a merged document", () => {
  it("keeps line ends, the mark of byte order and a last line that has no end", () => {
    const dressed = (text: string): string => `\ufeff${text.trimEnd().replaceAll("\n", "\r\n")}`;
    const sides = [MOVE, swapped(MOVE, ["lift: 1 m", "lift: 5 m"]), swapped(MOVE, ["times: 2", "times: 3"])].map(
      dressed,
    );
    const made = merge("a.move.yaml", sides[0], sides[1], sides[2]);
    assert.equal(made.text, dressed(swapped(MOVE, ["lift: 1 m", "lift: 5 m"], ["times: 2", "times: 3"])));
    const unix = merge("a.move.yaml", sides[0], sides[1], swapped(MOVE, ["times: 2", "times: 3"]));
    assert.equal(unix.text, swapped(MOVE, ["lift: 1 m", "lift: 5 m"], ["times: 2", "times: 3"]));
    const left = merge(
      "a.move.yaml",
      sides[0],
      dressed(swapped(MOVE, ["times: 2", "times: 3"])),
      dressed(swapped(MOVE, ["times: 2", "times: 4"])),
    );
    assert.ok(left.text.endsWith("times: 4 }\r\n>>>>>>> theirs\r\n"), left.text);
  });

  it("sets marks as long as it is told, with the labels of the sides", () => {
    const sides = { base: "a\n", ours: "b\n", theirs: "c\n" };
    const { text } = mergeTexts("notes.txt", sides, { ours: "HEAD", theirs: "topic", size: 9 });
    assert.equal(text, "<<<<<<<<< HEAD\nb\n=========\nc\n>>>>>>>>> topic\n");
    const short = mergeTexts("notes.txt", { base: "a", ours: "b", theirs: "c" }, { ours: "", theirs: "", size: 3 });
    assert.equal(short.text, "<<<\nb\n===\nc\n>>>\n");
  });

  it("merges by lines what it cannot read, and says why", () => {
    const why = (base: string, ours: string, theirs: string, file = "a.set.yaml"): MergedTexts =>
      merge(file, base, ours, theirs);
    const apart = swapped(SET, ["[1, 2, 3]", "[1, 2, 5]"]);
    const doubled = why(SET, `${SET}note: x\nnote: y\n`, apart);
    assert.match(doubled.byLines ?? "", /^our side cannot be read at line 6: `note` stands twice/);
    assert.deepEqual([doubled.conflicts, doubled.text], [0, `${apart}note: x\nnote: y\n`]);
    assert.match(
      why(`${SET}<<<<<<< a\n=======\n>>>>>>> b\n`, SET, apart).byLines ?? "",
      /^the common ancestor .* A merge left a conflict/,
    );
    const shared = swapped(SET, ["lid: {", "lid: &lid {"], ["{ at: [1, 2, 4] }", "*lid"]);
    const aliased = why(shared, `${shared}note: x\n`, swapped(shared, ["[1, 2, 3]", "[1, 2, 5]"]));
    assert.match(aliased.byLines ?? "", /^it has aliases/);
    assert.equal(aliased.text, `${swapped(shared, ["[1, 2, 3]", "[1, 2, 5]"])}note: x\n`);
    assert.match(why("a: 1\n", "a: 2\n", "a: 1\nb: 1\n", "notes.yaml").byLines ?? "", /^by its name/);
    const huge = `${SET}${`# ${"x".repeat(97)}\n`.repeat(MAX_TEXT / 100)}`;
    assert.match(why(huge, `# a\n${huge}`, `${huge}# b\n`).byLines ?? "", /at most 4000000 are read/);
  });

  it("does not let lines pass what they break", () => {
    // An alias that one side takes the anchor away from: each side can be read, both together can't.
    const base = "set: 1\nname: &a x\nfloor: 0\ntargets: {}\nnote: y\n";
    const made = merge("a.set.yaml", base, swapped(base, ["&a x", "x"]), swapped(base, ["note: y", "note: *a"]));
    assert.equal(made.conflicts, 1);
    assert.match(made.text, /^<{7} ours\nname: x\n[^]*={7}\nname: &a x\n[^]*note: \*a\n>{7} theirs$/m);
  });
});
