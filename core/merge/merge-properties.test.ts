import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import {
  isOpposed,
  randomChange,
  randomLayout,
  randomModel,
  randomOf,
  wordsIn,
  writeModel,
  type Change,
  type Model,
} from "../../test/support/merged-moves.ts";
import { SEEDS } from "../../test/fuzz/seeds.ts";
import { parseTree } from "../syntax/parse.ts";
import { mergeTexts, type MergedTexts } from "./merge-texts.ts";
import { saidOf } from "./said.ts";

// Longer: MOVEWRIGHT_RUNS=5000 npx mocha core/merge/merge-properties.test.ts
const numRuns = Number(process.env.MOVEWRIGHT_RUNS ?? 200);
const MARKS = { ours: "ours", theirs: "theirs", size: 7 };

interface Case {
  readonly file: string;
  readonly base: string;
  readonly ours: string;
  readonly theirs: string;
  /** Both sides' changes in one, where none opposes another. */
  readonly both: string | undefined;
  readonly isApart: boolean;
}

const changed = (model: Model, changes: readonly Change[]): Model =>
  changes.reduce((now, { make }) => make(now), model);

function randomCase(seed: number): Case {
  const random = randomOf(seed);
  const layout = randomLayout(random);
  const model = randomModel(random, 3 + Math.floor(random() * 5));
  const some = (side: string): Change[] =>
    Array.from({ length: 1 + Math.floor(random() * 3) }, (_, turn) => randomChange(random, model, side, turn));
  const [mine, other] = [some("o"), some("t")];
  const isClear = !mine.some((one) => other.some((their) => isOpposed(one, their)));
  const keysOf = (changes: readonly Change[]): number[] =>
    changes.flatMap(({ cells }) => cells.map((cell) => Number(/\d+/.exec(cell)?.[0])));
  const isApart = keysOf(mine).every((key) => keysOf(other).every((their) => Math.abs(key - their) > 1));
  const text = (made: Model): string => writeModel(made, layout);
  return {
    file: `pots.move.${layout.format}`,
    base: text(model),
    ours: text(changed(model, mine)),
    theirs: text(changed(model, other)),
    both: isClear ? text(changed(changed(model, mine), other)) : undefined,
    isApart: isClear && isApart && [...mine, ...other].every(({ cells }) => cells.length > 0),
  };
}

const merged = ({ file, base, ours, theirs }: Case): MergedTexts => mergeTexts(file, { base, ours, theirs }, MARKS);
const seeds = fc.integer({ min: 0, max: 2 ** 31 - 1 });
const check = (property: fc.IProperty<[number]>): void => fc.assert(property, { numRuns, seed: 7 });

describe("merging, at random", () => {
  it("gives the other side byte for byte where a side is unchanged", () => {
    const dressed = [...Object.values(SEEDS), ...Array.from({ length: 60 }, (_, i) => randomCase(i).ours)];
    const texts = fc.constantFrom(
      ...dressed,
      ...dressed.map((text) => `\ufeff${text.replaceAll("\n", "\r\n")}`),
      "",
      "{",
      "\r",
    );
    const property = fc.property(texts, texts, (base, changedText) => {
      const of = (ours: string, theirs: string): MergedTexts =>
        mergeTexts("a.move.yaml", { base, ours, theirs }, MARKS);
      assert.deepEqual(of(base, changedText), { text: changedText, conflicts: 0 });
      assert.deepEqual(of(changedText, base), { text: changedText, conflicts: 0 });
      assert.deepEqual(of(changedText, changedText), { text: changedText, conflicts: 0 });
    });
    fc.assert(property, { numRuns, seed: 7 });
  });

  it("loses no key and no comment that a side did not delete itself", () => {
    check(
      fc.property(seeds, (seed) => {
        const one = randomCase(seed);
        const found = wordsIn(merged(one).text);
        const [base, ours, theirs] = [one.base, one.ours, one.theirs].map(wordsIn);
        for (const word of new Set([...ours, ...theirs])) {
          const isDeleted = base.has(word) && (!ours.has(word) || !theirs.has(word));
          assert.ok(isDeleted || found.has(word), `${word} is lost`);
        }
      }),
    );
  });

  it("merges changes of different fields without a conflict, into what both mean together", () => {
    let clean = 0;
    check(
      fc.property(seeds, (seed) => {
        const one = randomCase(seed);
        if (one.both === undefined) return;
        clean += 1;
        const { text, conflicts, byLines } = merged(one);
        const format = one.file.endsWith("json") ? "json" : "yaml";
        assert.equal(byLines, undefined);
        assert.equal(conflicts, 0, text);
        assert.equal(saidOf(parseTree(text, format).root), saidOf(parseTree(one.both, format).root), text);
      }),
    );
    assert.ok(clean > numRuns / 4, `${clean} of ${numRuns}`);
  });

  it("leaves a conflict where both change one field, and each side is read from its own choice", () => {
    check(
      fc.property(seeds, (seed) => {
        const one = randomCase(seed);
        const { text, conflicts } = merged(one);
        assert.equal(conflicts, text.match(/^<{7} ours\r?$/gm)?.length ?? 0);
        for (const drop of [/^={7}\r?\n[^]*?^>{7}.*\n?/gm, /^<{7} [^]*?^={7}\r?\n/gm]) {
          const chosen = text.replace(drop, "").replace(/^(?:<{7}|>{7}) .*\n?/gm, "");
          assert.deepEqual(parseTree(chosen, one.file.endsWith("json") ? "json" : "yaml").problems, [], text);
        }
      }),
    );
  });

  it("takes changes on two lines of any kind of document, and no other byte", () => {
    const decimal = /(?<![\d:.])\d+\.\d+(?![\d:.])/;
    const documents = Object.entries(SEEDS).map(([kind, text]) => {
      const lines = text.split("\n");
      return { file: kind === "config" ? "movewright.config.yaml" : `a.${kind}.yaml`, text, lines };
    });
    let made = 0;
    for (const { file, text, lines } of documents) {
      const places = lines.flatMap((line, i) => (decimal.test(line) ? [i] : []));
      const changedAt = (...at: number[]): string =>
        lines.map((line, i) => (at.includes(i) ? line.replace(decimal, (number) => `${number}1`) : line)).join("\n");
      for (const [one, other] of places.flatMap((i) => places.filter((j) => i < j).map((j) => [i, j]))) {
        const merge = mergeTexts(file, { base: text, ours: changedAt(one), theirs: changedAt(other) }, MARKS);
        assert.deepEqual(merge, { text: changedAt(one, other), conflicts: 0 });
        made += 1;
      }
    }
    assert.ok(made > 100, String(made));
  });

  it("says what git's own merge of lines says where changes lie apart", () => {
    // Outside check: `git merge-file`.
    const folder = mkdtempSync(join(tmpdir(), "merge-file-"));
    try {
      let compared = 0;
      for (let seed = 0; compared < 25; seed++) {
        const one = randomCase(seed);
        if (!one.isApart) continue;
        const paths = (["ours", "base", "theirs"] as const).map((name) => {
          writeFileSync(join(folder, name), one[name]);
          return join(folder, name);
        });
        const theirs = gitMergeFile(paths);
        if (theirs === undefined) continue;
        assert.equal(merged(one).text, theirs);
        compared += 1;
      }
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it("never throws and keeps both sides, whatever the texts", () => {
    const line = fc.constantFrom(
      "a: 1",
      "- b",
      "  - c: 2 # x",
      "{",
      "}",
      "<<<<<<< ours",
      "=======",
      ">>>>>>> t",
      "keys:",
      "  &x y",
      "*x",
      "\t",
      "# y",
      "\r",
      "? z",
      "|",
      "\ufeff",
    );
    const text = fc.array(line, { maxLength: 8 }).map((lines) => lines.join("\n"));
    const property = fc.property(
      text,
      text,
      text,
      fc.constantFrom("a.move.yaml", "a.rig.json", "a.txt"),
      (base, ours, theirs, file) => {
        const made = mergeTexts(file, { base, ours, theirs }, MARKS);
        assert.equal(typeof made.text, "string");
      },
    );
    fc.assert(property, { numRuns: numRuns * 3, seed: 7 });
  });
});

/** The merge of git, or `undefined` where it leaves conflicts. */
function gitMergeFile(paths: readonly string[]): string | undefined {
  try {
    return execFileSync("git", ["merge-file", "-p", ...paths], { encoding: "utf8" });
  } catch {
    return undefined;
  }
}
