import assert from "node:assert/strict";
import { REVIEW_LEVELS, type ReviewedMove, type ReviewResult } from "../../protocol/review.ts";
import { moreWords, progressWords, rowOf } from "./review-rows.ts";

const MOVE: ReviewedMove = {
  uri: "file:///pottery/lid.move.yaml",
  title: "Over the lid",
  state: "both",
  level: "error",
  worst: "pan speed 82 % → 104 %",
  lines: ["new error: too fast", "pan speed 82 % → 104 %"],
};
const result = (left: number, more = 0): ReviewResult => ({ moves: [MOVE], left, more });

describe("rows of changed moves", () => {
  it("say the worst beside the title, all of it when pointed at, and how grave it is to whoever listens", () => {
    assert.deepEqual(rowOf(MOVE), {
      label: "Over the lid",
      description: "pan speed 82 % → 104 %",
      tooltip: "Over the lid\n\nnew error: too fast\npan speed 82 % → 104 %",
      spoken: "Over the lid, new errors: pan speed 82 % → 104 %",
      icon: { name: "error", color: "list.errorForeground" },
    });
  });

  it("have an icon of their own for what is graver than a change, and one for what came, went or changed", () => {
    const icons = REVIEW_LEVELS.map((level) => rowOf({ ...MOVE, level }).icon.name);
    assert.equal(new Set(icons).size, REVIEW_LEVELS.length);
    const states = (["added", "removed", "both"] as const).map((state) => rowOf({ ...MOVE, level: "changed", state }));
    assert.deepEqual(
      states.map(({ icon }) => icon.name),
      ["diff-added", "diff-removed", "diff-modified"],
    );
  });

  it("cut a long list, and say how much is left", () => {
    const lines = Array.from({ length: 40 }, (_, idx) => `line ${idx}`);
    const { tooltip } = rowOf({ ...MOVE, lines });
    assert.ok(tooltip.endsWith("line 11\nand 28 more"), tooltip);
  });

  it("tell how many are still looked at, over all folders, and how many are not shown", () => {
    assert.equal(progressWords([result(0), result(0)]), undefined);
    assert.equal(progressWords([result(1), result(0)]), "1 still to be compared.");
    assert.equal(progressWords([result(40), result(2)]), "42 still to be compared.");
    assert.equal(moreWords(result(0)), undefined);
    assert.equal(moreWords(result(0, 7)), "and 7 more");
  });
});
