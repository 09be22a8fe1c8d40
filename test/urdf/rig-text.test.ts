import assert from "node:assert/strict";
import { parse, stringify } from "yaml";
import { resolveRig } from "../../core/model/resolve-rig.ts";
import { memorySources } from "../fixtures/memory-sources.ts";
import { mutateText, mutateValue } from "../fuzz/mutate.ts";
import { randomChoices, type Random } from "../fuzz/random.ts";
import { FLEXIBLE } from "./flexible.ts";
import { mountOf } from "./posed.ts";

/** A rig that says all that may stand beside a URDF file. */
const RIG = `rig: 1
name: Cart
urdf: arm.urdf
tip: tip_left
axes:
  reach: { range: [-0.4, 0], limits: { speed: 0.2, accel: 1, jerk: 5 }, repeat: { sigma: 0.1 mm, slip: 1 mm/m } }
  jaw_left_joint: { drive: setup, positions: [0, 10 deg, 20], note: invented }
camera-mount: { at: [0.1, 0, 0.05], turn: [0, 0, 90] }
bodies: [{ on: reach, mesh: { file: arm.stl, scale: 0.001 } }, { on: base, box: [1, 1, 1] }]
masses: [{ on: tip_left_joint, mass: 2 kg }]
`;

function changedStructure(random: Random): string {
  const value = parse(RIG) as unknown;
  mutateValue(value, random);
  return stringify(value, { lineWidth: 0 });
}

describe("the text of a rig beside a URDF file", () => {
  it("gives a rig or findings in it, whatever became of it", () => {
    const random = randomChoices(35);
    const memo = new Map();
    let whole = 0;
    for (let run = 0; run < 800; run++) {
      const text = run % 2 === 0 ? mutateText(RIG, random) : changedStructure(random);
      const files = new Map([
        ["r.rig.yaml", text],
        ["arm.urdf", FLEXIBLE],
        ["arm.stl", "solid arm"],
      ]);
      const { rig, problems } = resolveRig("r.rig.yaml", memorySources(files), memo);
      assert.ok(rig !== undefined || problems.length > 0, text);
      for (const { place, message } of problems) {
        assert.equal(place.file, "r.rig.yaml");
        assert.ok(0 <= place.span.start && place.span.start <= place.span.end && place.span.end <= text.length, text);
        assert.doesNotMatch(message, /undefined/);
      }
      if (!rig) continue;
      whole += 1;
      assert.ok(mountOf(rig, {}).position.every(Number.isFinite), text);
    }
    assert.ok(whole > 80, `${whole} rigs were whole`);
  });
});
