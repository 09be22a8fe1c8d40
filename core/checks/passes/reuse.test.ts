import assert from "node:assert/strict";
import { KIT } from "../../../test/fixtures/kit.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { seededRandom } from "../../base/random.ts";
import { runToEnd } from "../../base/task.ts";
import { analyse, createMemo } from "../analyse.ts";

const RIG = KIT["crane.rig.yaml"].replace(
  /(axis: (\w+), .*)\}$/gm,
  "$1, repeat: { sigma: 0.004 deg, slip: 0.0001, backlash: 0.01 deg } }",
);

/** A move of four keys whose numbers an edit may change one by one. */
function moveText(numbers: readonly number[]): string {
  const [first, second, times, tolerance, shift] = [0, 1, 2, 3, 4].map((i) => numbers[8 + i]);
  const keys = Array.from({ length: 4 }, (_, i) => {
    const [swing, lift] = [numbers[2 * i], numbers[2 * i + 1]].map((n, k) =>
      ((n - 0.5) * (k === 0 ? 20 : 10)).toFixed(3),
    );
    return `  - { at: ${3 * i} s, axes: { swing: ${swing}, lift: ${lift} }, aim: ${i % 3 === 0 ? "lid" : "spout"}, stop: ${i % 2 === 0} }`;
  });
  return `move: 1
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
${keys.join("\n")}
passes:
  - { name: a, times: ${1 + Math.floor(4 * first)} }
  - { name: b, times: ${1 + Math.floor(4 * second)}, targets: { lid: { shift: [0, 0, ${(0.4 * shift).toFixed(3)}] } } }
tolerance: { match: ${(0.5 + 4 * tolerance).toFixed(3)} px }
return: { speed: ${(0.2 + 0.8 * times).toFixed(2)} }
expect: [{ of: lid.pass-error, below: 1.5 px }, { of: spout.plan-error, below: 1.5 px }]
`;
}

describe("passes after an edit", () => {
  it("have the findings of a move read anew, through 10 edits of one number each, seed 11", () => {
    const random = seededRandom(11);
    const numbers = Array.from({ length: 13 }, random);
    const memo = createMemo();
    const codes = new Set<string>();
    for (let edit = 0; edit < 10; edit++) {
      numbers[Math.floor(random() * numbers.length)] = random();
      const sources = memorySources(
        new Map(Object.entries({ ...KIT, "crane.rig.yaml": RIG, "m.move.yaml": moveText(numbers) })),
      );
      const kept = runToEnd(analyse("m.move.yaml", sources, memo));
      const anew = runToEnd(analyse("m.move.yaml", sources));
      assert.deepEqual(kept.motionFindings, anew.motionFindings);
      for (const { code, pass } of anew.motionFindings) codes.add(pass === undefined ? code : `${code} of a pass`);
    }
    for (const code of ["match", "expect"]) assert.ok(codes.has(code), [...codes].join());
    assert.ok(
      [...codes].some((code) => code.endsWith("of a pass")),
      [...codes].join(),
    );
  });
});
