import assert from "node:assert/strict";
import { randomChoices } from "../../test/fuzz/random.ts";
import { applyEdits, type TextEdits } from "./apply-edits.ts";
import { composedEdits } from "./composed-edits.ts";

describe("edits made one after another", () => {
  it("are edits of the first text that come to the same", () => {
    const random = randomChoices(7);
    for (let round = 0; round < 2000; round++) {
      const first = "abcdefghijklmnopqrst".slice(0, 1 + random.below(20));
      const steps: TextEdits[] = [];
      let text = first;
      for (let step = 0; step < 1 + random.below(4); step++) {
        const places = Array.from({ length: 4 }, () => random.below(text.length + 1)).sort((a, b) => a - b);
        const put = () => "XYZ".slice(0, random.below(4));
        const edits = [
          { span: { start: places[0], end: places[1] }, text: put() },
          { span: { start: places[2], end: places[3] }, text: put() },
        ].slice(0, places[1] < places[2] ? 2 : 1);
        steps.push(edits);
        text = applyEdits(text, edits);
      }
      const edits = composedEdits(first.length, steps);
      assert.equal(applyEdits(first, edits), text, JSON.stringify({ first, steps }));
      edits.slice(1).forEach(({ span }, i) => assert.ok(edits[i].span.end < span.start, "apart from each other"));
    }
  });

  it("leave alone what none of them touched", () => {
    const text = "at: 1 s\nat: 2 s\n";
    const steps = [
      [{ span: { start: 4, end: 5 }, text: "10" }],
      [
        { span: { start: 4, end: 6 }, text: "12" },
        { span: { start: 13, end: 14 }, text: "3" },
      ],
    ];
    assert.deepEqual(composedEdits(text.length, steps), [
      { span: { start: 4, end: 5 }, text: "12" },
      { span: { start: 12, end: 13 }, text: "3" },
    ]);
  });
});
