import assert from "node:assert/strict";
import { parse } from "yaml";
import { runToEnd } from "../../core/base/task.ts";
import { analyse, analyseText, createMemo } from "../../core/checks/analyse.ts";
import type { AnalysisMemo } from "../../core/checks/memo.ts";
import type { DocumentKind } from "../../core/model/document-kind.ts";
import { readDocument, type Document } from "../../core/model/load-document.ts";
import type { OriginTable } from "../../core/model/origin-table.ts";
import { resolveMove, type MoveResolution } from "../../core/model/resolve-move.ts";
import { createOrigins } from "../../core/model/origins.ts";
import { moveText } from "../../bench/documents.ts";
import { memorySources } from "../fixtures/memory-sources.ts";
import { editText } from "./edits.ts";
import { randomChoices, type Random } from "./random.ts";
import { SEEDS, SURROUNDINGS } from "./seeds.ts";

/** More runs by hand: `MOVEWRIGHT_FUZZ_RUNS=2000 npx mocha test/fuzz/again.test.ts`. */
const RUNS = Number(process.env.MOVEWRIGHT_FUZZ_RUNS ?? 10);
const EDITS = 25;

const extraKeys = Array.from(
  { length: 12 },
  (_, idx) => `  - at: "01:00:00:${String(idx).padStart(2, "0")}"
    axes: { slide: 0.${idx} } # key ${idx}
    aim: { at: lid }
${idx % 4 === 0 ? "    # allow near-limit: meant\n" : ""}`,
).join("");
const LONG = SEEDS.move.replace("keys:\n", `keys:\n${extraKeys}`);

/** Everything that YAML has, in places where it may come between two readings. */
const RICH = `# above

move: 1
title: é😀 # beside
rig: a.rig.yaml
keys:
  # first
  - at: 0 s # zero
    note: |
      many
      lines

    aim: { at: lid, framing: [0.5, 0.5] }

  # allow near-limit: meant
  - name: 'top ''x'' '
    at: 2 s
    note: "two
      lines"
    allow:
      - code: near-limit
        reason: rehearsed

  - - nested
    - list
  -
    at: 3 s
    axes: {
      pan: 1,
      tilt: 2 }
  - { at: 5 s, axes: { pan: 3 } }
    # in it
# below
passes:
- name: a
- name: b
  targets: { lid: { shift: [0, 0, 1] } }
note: >-
  folded
  text
`;
const ANCHORED = LONG.replace("{ at: lid, framing: [0.50, 0.44] }", "&aim { at: lid }").concat("note: &n x\n");

const TEXTS: readonly (readonly [DocumentKind, string])[] = [
  ["move", LONG],
  ["move", LONG.replaceAll("\n", "\r\n")],
  ["move", RICH],
  ["move", ANCHORED],
  ["move", `---\n# x\n${moveText(5)}`],
  ["move", `\ufeff${moveText(6)}`],
  ["rig", SEEDS.rig],
  ["set", SEEDS.set],
  ["camera", SEEDS.camera],
];

/** A move to be typed. */
const TYPED = `# lid
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - axes: { slide: 0.1 } # here
    aim: lid
  - at: 2 s
    axes: { slide: 0.3, 'pan': 2 }
    note: |
      slow
passes:
  - name: a
`;

/** The start of a session: a file and its text. */
function begin(random: Random): { readonly file: string; readonly kind: DocumentKind; readonly text: string } {
  const [kind, written] = random.pick(TEXTS);
  if (random.below(4) > 0) return { file: `fuzzed.${kind}.yaml`, kind, text: written };
  const indent = random.pick([undefined, 2]);
  return { file: `fuzzed.${kind}.json`, kind, text: JSON.stringify(parse(written), null, indent) };
}

/** A document without what says how it was read. */
function plain({ tree, declared, problems }: Document): unknown {
  const fields = declared?.value as { readonly keys?: { readonly value: unknown; readonly span: unknown } } | undefined;
  const keys = fields?.keys && { value: fields.keys.value, span: fields.keys.span };
  return { tree, problems, declared: declared && { ...declared, value: { ...fields, keys } } };
}

/** A resolved move with the text of each of its origins. */
function placed({ move, problems, keySpans, inputs, origins }: MoveResolution): unknown {
  return { move, problems, keySpans, inputs, places: placesIn(move, origins) };
}

function placesIn(value: unknown, origins: OriginTable): unknown {
  if (typeof value !== "object" || value === null) return undefined;
  return Object.entries(value).map(([name, inner]) =>
    /origin$/i.test(name) && typeof inner === "number" ? origins.place(inner) : placesIn(inner, origins),
  );
}

/** Findings with all that shows, and the move that they are of. */
function shown(file: string, text: string, memo: AnalysisMemo, whole: boolean): unknown {
  const sources = memorySources(new Map([...Object.entries(SURROUNDINGS), [file, text]]));
  const found = whole ? runToEnd(analyse(file, sources, memo)) : analyseText(file, sources, memo);
  const { move, textFindings, motionFindings, inputs } = found;
  return { move, textFindings, motionFindings, inputs };
}

describe("a document that is read again after an edit", () => {
  it("is as it is read from scratch: tree, declarations, problems, move and the places of its origins", function () {
    this.timeout(RUNS * 20_000);
    const counts = { steps: 0, again: 0, keys: 0 };
    for (let run = 0; run < RUNS; run++) {
      const random = randomChoices(run);
      const { file, kind, text: first } = begin(random);
      const format = file.endsWith("json") ? "json" : "yaml";
      const memo = new Map();
      let text = first;
      let document = readDocument(file, kind, format, text);
      for (let step = 0; step < EDITS && 40 < text.length && text.length < 9000; step++) {
        // Now and then the faults are undone, or every text would soon be broken for good.
        text = editText(random.below(3) === 0 ? (document.sound ?? document).text : text, random);
        document = readDocument(file, kind, format, text, document);
        const where = `run ${run}, step ${step}, ${file}`;
        assert.deepEqual(plain(document), plain(readDocument(file, kind, format, text)), where);
        counts.steps += 1;
        if (document.work.parsed !== "all") counts.again += 1;
        if (kind !== "move") continue;
        const sources = memorySources(new Map([...Object.entries(SURROUNDINGS), [file, text]]));
        const resolved = resolveMove(file, sources, memo);
        assert.deepEqual(placed(resolved), placed(resolveMove(file, sources)), where);
        counts.keys += resolved.keySpans.length - resolved.freshKeys;
      }
    }
    assert.ok(counts.again * 6 > counts.steps && counts.keys * 2 > counts.steps, JSON.stringify(counts));
  });

  it("has the same findings when it is typed character by character", function () {
    this.timeout(120_000);
    for (const [file, text] of [
      ["typed.move.yaml", TYPED],
      ["typed.move.yaml", TYPED.replaceAll("\n", "\r\n")],
      ["typed.move.json", JSON.stringify(parse(TYPED))],
    ]) {
      const memo = createMemo();
      for (let end = 0; end <= text.length; end++) {
        const now = text.slice(0, end);
        const scratch = createMemo();
        for (const [name, kept] of memo.documents) if (name !== file) scratch.documents.set(name, kept);
        assert.deepEqual(shown(file, now, memo, false), shown(file, now, scratch, false), `${file} ${end}`);
      }
    }
  });

  it("has the same findings of its motion after edits of values, keys and comments", function () {
    this.timeout(120_000);
    const memo = createMemo();
    const random = randomChoices(5);
    const file = "typed.move.yaml";
    let text = SEEDS.move;
    for (let step = 0; step < 12; step++) {
      const put = random.pick(["0.25", "0.3", "0.35", "0.2 # there", "0.40\n    # allow near-limit: meant"]);
      text = text.replace(/slide: 0\.\d+(?: # there| *\n {4}# allow near-limit: meant)?/, `slide: ${put}`);
      assert.deepEqual(shown(file, text, memo, true), shown(file, text, createMemo(), true), `step ${step}: ${put}`);
    }
  });
});

describe("a move of a thousand keys", () => {
  const file = "m.move.yaml";
  const before = moveText(1000);
  const memo = new Map();
  const typed = (text: string): { readonly work: unknown; readonly resolved: MoveResolution } => {
    const files = { ...SURROUNDINGS, [file]: text };
    const resolved = resolveMove(file, memorySources(new Map(Object.entries(files))), memo);
    return { work: (memo.get(file) as Document).work, resolved };
  };

  it("is parsed, read and resolved in one key when a value changes", function () {
    this.timeout(20_000);
    typed(before);
    const { work, resolved } = typed(before.replace("name: k500\n", "name: lid-5\n"));
    assert.deepEqual(work, { parsed: 1, read: 1 });
    assert.equal(resolved.freshKeys, 1);
    assert.equal(resolved.keySpans.length, 1000);
  });
});

describe("origins of keys", () => {
  it("stand in blocks: one more in a key leaves the ids of the others", () => {
    const origins = createOrigins();
    const [a, b] = [origins.add("f", { start: 1, end: 2 }), origins.add("f", { start: 3, end: 4 })];
    origins.putKey(0, "f", 0, [{ start: 5, end: 6 }]);
    origins.putKey(7, "f", 100, [
      { start: 5, end: 6 },
      { start: 8, end: 9 },
    ]);
    assert.deepEqual([a, b], [1, 2]);
    assert.deepEqual(origins.place(-1)?.span, { start: 5, end: 6 });
    assert.deepEqual(origins.place(-(7 * 0x10000 + 2))?.span, { start: 108, end: 109 });
    assert.equal(origins.place(0), undefined);
    assert.equal(origins.place(-(3 * 0x10000 + 1)), undefined);
  });
});
