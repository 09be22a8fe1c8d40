import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { isNode, isPair, parseDocument, visit, type Document } from "yaml";
import { DEFAULT_LAYOUT, edited, layOut } from "../../core/layout/lay-out.ts";
import { layOutLines, layOutTyped } from "../../core/layout/lay-out-part.ts";
import { SHAPES } from "../../core/schema/documents.ts";
import { parseTree } from "../../core/syntax/parse.ts";
import { anyValue } from "./any-document.ts";
import { editText } from "./edits.ts";
import { randomChoices, type Random } from "./random.ts";
import { SEEDS } from "./seeds.ts";

type Format = "yaml" | "json";
const DOCUMENTS = 400;
const EXAMPLES = fileURLToPath(new URL("../../examples/", import.meta.url));
const KINDS = Object.keys(SEEDS) as (keyof typeof SEEDS)[];

/** What another reader sees: the values, and each comment with the path of the node that it belongs to. */
function seen(text: string): { readonly value: unknown; readonly comments: readonly string[] } {
  const document = parseDocument(text, { uniqueKeys: false, version: "1.2" });
  assert.deepEqual(document.errors, []);
  return { value: document.toJS({ maxAliasCount: -1 }), comments: commentsOf(document) };
}

function commentsOf(document: Document): string[] {
  const found: string[] = [];
  const tell = (where: string, comment: string | null | undefined): void => {
    const lines = (comment ?? "").split("\n").map((line) => line.trim());
    if (comment) found.push(`${where}: ${lines.filter((line) => line !== "").join("|")}`);
  };
  tell("document", document.commentBefore);
  visit(document, (key, node, ancestors) => {
    if (!isNode(node)) return;
    const path = [...ancestors, node].map((each) =>
      isPair(each) ? "pair" : isNode(each) ? each.constructor.name : "",
    );
    tell(`${path.join("/")}[${String(key)}] before`, node.commentBefore);
    tell(`${path.join("/")}[${String(key)}] behind`, node.comment);
  });
  tell("end", document.comment);
  return found;
}

/** All comments in their order. */
const commentTexts = (text: string, format: Format): string[] =>
  parseTree(text, format).comments.map((each) => each.text);

function laid(text: string, format: Format) {
  const parse = (version: string) => parseTree(version, format);
  return { text, format, tree: parse(text), parse };
}

/** Lays out a text and holds the new one to all that it must be; false for a text with faults. */
function checkLayout(text: string, format: Format): boolean {
  const layout = layOut(laid(text, format), DEFAULT_LAYOUT);
  if ("refusal" in layout) {
    assert.match(layout.refusal, /^line \d+: /, `a text without faults was left alone:\n${text}`);
    return false;
  }
  const now = edited(text, layout.edits);
  assert.equal(now.replace(/\s/g, ""), text.replace(/\s/g, ""), "every letter stays, in its order");
  assert.deepEqual(seen(now).value, seen(text).value);
  assert.deepEqual(commentTexts(now, format), commentTexts(text, format));
  const again = layOut(laid(now, format), DEFAULT_LAYOUT);
  assert.deepEqual(again, { edits: [] }, "laid out twice is laid out once");
  if (now !== "" && !/[|>][-\d]*\+/.test(now)) {
    assert.doesNotMatch(now, /\n\s*\n$/, "one line end at the end");
    assert.match(now, /\n$/);
  }
  return true;
}

/** A text with comments, blank lines and odd spacing put between its lines. */
function roughened(text: string, random: Random): string {
  const ends = random.below(4) === 0 ? "\r\n" : "\n";
  const lines = text.split("\n").flatMap((line) => {
    const indent = /^ */.exec(line)?.[0] ?? "";
    const before = random.below(12) === 0 ? [`${indent}# über ${random.below(100)}\tx`] : [];
    const blank = random.below(12) === 0 ? ["", "   ", ""].slice(random.below(3)) : [];
    const spaced = random.below(3) === 0 ? line.replace(/([,:]) (?=\S)/g, "$1   ") : line;
    const behind = /[\w}\]]$/.test(line) && random.below(10) === 0 ? `${spaced}   # 注${random.below(9)}` : spaced;
    return [...blank, ...before, random.below(6) === 0 ? `${behind}  ` : behind];
  });
  return (random.below(8) === 0 ? "\ufeff" : "") + lines.join(ends);
}

describe("laying out", () => {
  const files = ["", "kit", "moves", "broken"].flatMap((folder) =>
    readdirSync(join(EXAMPLES, folder))
      .filter((name) => /\.(?:yaml|json)$/.test(name))
      .map((name) => join(EXAMPLES, folder, name)),
  );

  it("keeps what each example says, and which comment stands by what", () => {
    assert.ok(files.length > 60);
    for (const file of files) {
      const text = readFileSync(file, "utf8");
      const format = file.endsWith("json") ? "json" : "yaml";
      assert.ok(checkLayout(text, format), file);
      const layout = layOut(laid(text, format), DEFAULT_LAYOUT);
      const now = edited(text, "edits" in layout ? layout.edits : []);
      assert.deepEqual(seen(now).comments, seen(text).comments, file);
    }
  });

  it("keeps which comment stands by what when examples are indented otherwise", () => {
    for (const [idx, file] of files.filter((name) => name.endsWith("yaml")).entries()) {
      const random = randomChoices(idx);
      const step = 3 + random.below(3);
      const text = readFileSync(file, "utf8").replace(/^ +/gm, (blanks) => " ".repeat((blanks.length / 2) * step));
      // Behind a dash, too, so that names stay below each other.
      const wide = text.replace(/^( *)- /gm, (_, blanks: string) => `${blanks}-${" ".repeat(step - 1)}`);
      assert.ok(checkLayout(wide, "yaml"), file);
      const layout = layOut(laid(wide, "yaml"), DEFAULT_LAYOUT);
      const now = edited(wide, "edits" in layout ? layout.edits : []);
      assert.deepEqual(seen(now).comments, seen(wide).comments, file);
    }
  });

  it(`keeps what ${DOCUMENTS} edited and random documents say, and is done at the first time`, function () {
    this.timeout(60_000);
    let count = 0;
    for (let seed = 0; seed < DOCUMENTS; seed += 1) {
      const random = randomChoices(seed);
      const kind = random.pick(KINDS);
      let text = roughened(SEEDS[kind], random);
      for (let edits = random.below(3); edits > 0; edits -= 1) text = editText(text, random);
      try {
        if (checkLayout(text, "yaml")) count += 1;
        const value = JSON.stringify(anyValue(SHAPES[kind], random), null, random.pick([0, 1, 2, "\t"]));
        if (checkLayout(value, "json")) count += 1;
      } catch (error) {
        throw new Error(`document ${seed}:\n${text}`, { cause: error });
      }
    }
    assert.ok(count > DOCUMENTS, `only ${count} texts were without faults`);
  });

  it("keeps what documents say when a few lines are laid out, and the cursor where it is while somebody types", () => {
    let changes = 0;
    for (let seed = 0; seed < 150; seed += 1) {
      const random = randomChoices(9000 + seed);
      const text = roughened(SEEDS[random.pick(KINDS)], random);
      const start = random.below(text.length);
      const some = layOutLines(laid(text, "yaml"), DEFAULT_LAYOUT, { start, end: Math.min(text.length, start + 90) });
      assert.deepEqual(seen(edited(text, some)).value, seen(text).value);
      const cursor = 1 + Math.max(text.indexOf(random.pick(["\n", "}"]), start), 0);
      const typed = { letter: text[cursor - 1], cursor };
      const edits = layOutTyped(laid(text, "yaml"), DEFAULT_LAYOUT, typed);
      assert.ok(edits.every(({ span }) => span.end < cursor || cursor < span.start));
      assert.ok(edits.every(({ span, text: put }) => !/\n/.test(text.slice(span.start, span.end) + put)));
      assert.deepEqual(seen(edited(text, edits)).value, seen(text).value);
      changes += some.length + edits.length;
    }
    assert.ok(changes > 100, `${changes}`);
  });
});
