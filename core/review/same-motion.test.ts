import assert from "node:assert/strict";
import fc from "fast-check";
import { seededRandom } from "../base/random.ts";
import { documentKind } from "../model/document-kind.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { demoFiles, reviewOfFiles, withFiles, type Files } from "../../test/support/change.ts";
import { headOf, randomMoveText } from "../../test/support/random-moves.ts";
import { dataOf, inOtherUnits, renamedIn, shuffled, writtenAnew } from "../../test/support/same-rewrites.ts";
import type { MoveReview } from "./review.ts";

const MOVE = "m.move.yaml";

const kitWith = (seed: number): Files => new Map(Object.entries({ ...KIT, [MOVE]: randomMoveText(seed) }));

/** Nothing but names and places in time that stay is said of it. */
function assertSame(move: MoveReview, context: string): void {
  assert.equal(move.motion, "same", context);
  for (const key of move.keys) {
    assert.ok(
      key.state === "changed" && key.renamedFrom !== undefined && key.fields.length === 0,
      `${context} ${key.key}`,
    );
  }
  assert.deepEqual(move.fields, [], context);
  assert.deepEqual(
    move.findings.filter(({ state }) => state !== "still").map(({ code, element }) => `${code} ${element}`),
    [],
    context,
  );
  assert.equal(move.effects, undefined, context);
}

describe("no motion change", () => {
  const runs = Number(process.env.REVIEW_RUNS ?? 25);

  it("is said of any move whose documents are written anew: units, order of fields, layout, comments, format", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const random = seededRandom(seed);
        const before = kitWith(seed);
        let after = before;
        for (const file of before.keys()) after = inOtherUnits(after, file, 0.6, random);
        const renames: Record<string, string> = {};
        const written = [...after].map(([file, text]): [string, string] => {
          const toJson = file === MOVE && random() < 0.5;
          const data = shuffled(dataOf(text as string), random);
          if (toJson) renames[file] = "m.move.json";
          return [toJson ? "m.move.json" : file, writtenAnew(data, toJson ? "json" : "yaml", random)];
        });
        const review = reviewOfFiles(before, new Map(written), renames);
        const after0 = written.map(([file, text]) => `#- ${file}\n${text}`).join("");
        assert.equal(review.moves.length, 1);
        assertSame(review.moves[0], `seed ${seed}\n${before.get(MOVE) as string}\n${after0}`);
        for (const document of review.documents) {
          const { file, fields } = document;
          assert.ok(document.isMeaningSame, `seed ${seed} ${file} ${JSON.stringify(fields)}`);
        }
      }),
      { numRuns: runs, seed: 5 },
    );
  });

  it("is said where keys, axes, targets, turntables and files are called something else everywhere", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const random = seededRandom(seed);
        const before = kitWith(seed);
        const units = inOtherUnits(before, "table.set.yaml", 0.5, random);
        const names = ["lid", "spout", "plate", "swing", "slide", "lift", "pan", "tilt"].filter(() => random() < 0.4);
        const renames: Record<string, string> = { "table.set.yaml": "sets/bench.set.yaml" };
        const after = [...units].map(([file, text]): [string, string] => {
          const kind = documentKind(file)?.kind;
          let data = dataOf(text as string);
          for (const name of names) data = renamedIn(data, name, `${name} two`);
          data = renamedIn(data, "table.set.yaml", "sets/bench.set.yaml");
          const named = kind === "move" ? withKeyNames(data) : data;
          return [renames[file] ?? file, writtenAnew(named, "yaml", random)];
        });
        const review = reviewOfFiles(before, new Map(after), renames);
        assertSame(
          review.moves[0],
          `seed ${seed} ${names.join()}\n${before.get(MOVE) as string}\n${JSON.stringify(review.moves[0].findings, undefined, 1)}`,
        );
      }),
      { numRuns: runs, seed: 6 },
    );
  });

  it("is said of every move of the demo in other units", () => {
    const before = demoFiles();
    const random = seededRandom(3);
    let after: Files = before;
    for (const file of before.keys()) if (documentKind(file)) after = inOtherUnits(after, file, 0.7, random);
    const review = reviewOfFiles(before, after);
    assert.equal(review.moves.length, 8);
    for (const move of review.moves) assertSame(move, move.file);
    for (const { file, isMeaningSame, fields } of review.documents)
      assert.ok(isMeaningSame, `${file} ${JSON.stringify(fields)}`);
  });

  it("is said of 12 in for 304.8 mm, of radians for degrees and of frames for seconds, and not of 1e-4 deg more", () => {
    const text = (slide: string, pan: string, at: string): string =>
      `${headOf("slider")}keys:\n  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }\n  - { at: ${at}, axes: { slide: ${slide}, pan: ${pan} } }\n`;
    const verdict = (after: string): string => {
      const [before, now] = [text("12 in", "18 deg", "2.4 s"), after].map(
        (one) => new Map(Object.entries({ ...KIT, [MOVE]: one })),
      );
      const { moves } = reviewOfFiles(before, now);
      return moves.map(({ motion, keys }) => `${motion} ${keys.length}`).join();
    };
    assert.equal(verdict(text("304.8 mm", "0.3141592653589793 rad", "60 f")), "same 0");
    assert.equal(verdict(text("1 ft", "18", '"00:00:02:10"')), "same 0");
    assert.equal(verdict(text("12 in", "18.0001 deg", "2.4 s")), "changed 1");
    assert.equal(verdict(text("304.801 mm", "18 deg", "2.4 s")), "changed 1");
    assert.equal(verdict(text("12 in", "18 deg", "2.4001 s")), "changed 1");
  });

  it("is said of a key that is added where the motion goes through in any case", () => {
    const still = `${headOf("slider")}keys:\n  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 }, hold: 2 s }\n  - { after: 3 s, axes: { slide: 0.3 } }\n`;
    const more = still.replace("hold: 2 s }\n", "hold: 1 s }\n  - { after: 0.5 s, axes: { slide: 0 }, hold: 0.5 s }\n");
    const filesOf = (text: string): Files => new Map(Object.entries({ ...KIT, [MOVE]: text }));
    const [move] = reviewOfFiles(filesOf(still), filesOf(more)).moves;
    assert.equal(move.motion, "same");
    assert.deepEqual(
      move.keys.map(({ state, fields }) => [state, fields.map(({ field }) => field)]),
      [
        ["changed", ["hold"]],
        ["added", []],
      ],
    );
  });

  it("is said of another title, which is listed", () => {
    const files = kitWith(1);
    const text = files.get(MOVE) as string;
    // A title is what people call it.
    const titled = withFiles(files, { [MOVE]: text.replace("move: 1\n", "move: 1\ntitle: Other\n") });
    const [move] = reviewOfFiles(files, titled).moves;
    assert.equal(move.motion, "same");
    assert.deepEqual(
      move.fields.map(({ field, was, is }) => [field, was, is]),
      [["title", undefined, "Other"]],
    );
  });
});

function withKeyNames(data: unknown): unknown {
  const move = data as { readonly keys: readonly object[] };
  return { ...move, keys: move.keys.map((key, idx) => ({ ...key, name: `stand ${idx}` })) };
}
