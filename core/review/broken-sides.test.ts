import assert from "node:assert/strict";
import fc from "fast-check";
import { KIT } from "../../test/fixtures/kit.ts";
import { reviewOfFiles, withFiles, type Files } from "../../test/support/change.ts";
import { randomMoveText } from "../../test/support/random-moves.ts";
import { createMemo } from "../checks/memo.ts";

const MOVE = "m.move.yaml";

/** What people and merges leave behind in a text. */
const LEFT = [
  "",
  "\n",
  "  ",
  "{",
  "]",
  ":",
  "*a",
  "&a ",
  "<<<<<<< ours\n",
  "- ",
  "1e999",
  "null",
  "\u0000",
  "\u{1f3a5}",
  "keys:\n",
  "name: up\n",
];

/** A text in which a piece became another one. */
function broken(text: string, at: number, length: number, left: string): string {
  const start = Math.floor(at * text.length);
  return text.slice(0, start) + left + text.slice(start + length);
}

describe("review of texts that are broken", () => {
  const files: Files = new Map(Object.entries({ ...KIT, [MOVE]: randomMoveText(7) }));
  const rig = /rig: (.*)/.exec(files.get(MOVE) as string)?.[1] ?? "";
  const memos = [createMemo(), createMemo()] as const;

  it("never throws, tells why a side can't be solved, and lists what its texts say", () => {
    const piece = fc.record({
      file: fc.constantFrom(MOVE, MOVE, rig, "table.set.yaml", "a.camera.yaml"),
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      length: fc.integer({ min: 0, max: 60 }),
      left: fc.constantFrom(...LEFT),
    });
    fc.assert(
      fc.property(fc.array(piece, { minLength: 1, maxLength: 3 }), fc.boolean(), (pieces, isBefore) => {
        let other = files;
        for (const { file, at, length, left } of pieces) {
          other = withFiles(other, { [file]: broken(other.get(file) as string, at, length, left) });
        }
        const { moves } = isBefore ? reviewOfFiles(other, files, {}, memos) : reviewOfFiles(files, other, {}, memos);
        for (const { motion, problem, effects } of moves) {
          const why = isBefore ? problem.before : problem.after;
          assert.equal(motion === "unknown", why !== undefined);
          if (why !== undefined) assert.ok(why.trim() !== "" && effects === undefined);
        }
      }),
      { numRuns: Number(process.env.REVIEW_RUNS ?? 60), seed: 12 },
    );
  });

  it("tells of a side that is empty, is of another kind or is too deep", () => {
    const deep = `move: 1\nkeys: ${"[".repeat(5000)}`;
    for (const text of [
      "",
      "rig: 1\n",
      "- 1\n- 2\n",
      deep,
      "move: 1\nkeys: 5\n",
      "move: 1\nkeys: [1, null, [], {}]\n",
    ]) {
      const [move] = reviewOfFiles(files, withFiles(files, { [MOVE]: text })).moves;
      assert.equal(move.motion, "unknown");
      assert.ok((move.problem.after ?? "").length > 10);
      assert.ok(move.findings.some(({ state }) => state === "new"));
    }
  });
});
