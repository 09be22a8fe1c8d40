import assert from "node:assert/strict";
import fc from "fast-check";
import { readFromStage } from "./from-stage.ts";
import { fileNameOf, PART_SIZE, SAVE_CAP } from "./stage-save.ts";

describe("files that the stage made", () => {
  const wish = { type: "save", id: 1, name: "Lid to spout 01-00-04-10 free.png", kind: "png", size: 7 };

  it("are let through by name, kind and size, and their parts by number", () => {
    const part = { type: "save-part", id: 1, index: 0, data: "A".repeat((PART_SIZE / 3) * 4) };
    for (const message of [wish, { ...wish, name: "é.webm", kind: "webm", size: SAVE_CAP }, part]) {
      assert.deepEqual(readFromStage(message), message);
    }
  });

  it("are dropped when they would lead elsewhere or hold more than is taken", () => {
    for (const odd of [
      ...["../a.png", "a/b.png", "a\\b.png", "c:a.png", ".a.png", "a.exe", "a.png\u0000", `${"x".repeat(200)}.png`].map(
        (name) => ({ name }),
      ),
      ...[{ size: 0 }, { size: SAVE_CAP + 1 }, { size: 1.5 }, { kind: "svg" }, { id: -1 }],
    ]) {
      assert.equal(readFromStage({ ...wish, ...odd }), undefined, JSON.stringify(odd));
    }
    const data = "A".repeat((PART_SIZE / 3) * 4 + 4);
    assert.equal(readFromStage({ type: "save-part", id: 1, index: 0, data }), undefined);
  });

  it("have names that the extension takes, whatever the title is", () => {
    assert.equal(fileNameOf("Past <the> lid: 01:00:04:10  free", "png"), "Past -the- lid- 01-00-04-10 free.png");
    assert.equal(fileNameOf("...", "webm"), "stage.webm");
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (words) => {
        assert.ok(readFromStage({ ...wish, name: fileNameOf(words, "png") }), words);
      }),
      { seed: 5, numRuns: 500 },
    );
  });
});
