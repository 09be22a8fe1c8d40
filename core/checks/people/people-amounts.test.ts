import assert from "node:assert/strict";
import { assertCures, findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import type { PlacedFinding } from "../finding.ts";

/** A move of one of the rigs towards a person, in `time` seconds. */
interface Way {
  readonly rig: string;
  readonly from: string;
  readonly to: string;
  readonly person: readonly [number, number, number];
}

const WAYS: readonly Way[] = [
  { rig: "slider", from: "slide: -0.4, pan: 0, tilt: 0", to: "slide: 0.4", person: [0.05, 0.63, 1.2] },
  { rig: "crane", from: "swing: 0, lift: 0, pan: 0, tilt: 0", to: "swing: 30", person: [1.24, 1.0, 1.05] },
  { rig: "telescope", from: "swing: 0, lift: 0, tube: -0.4, pan: 0, tilt: 0", to: "tube: 0.3", person: [2.1, 0, 1.05] },
];

function documents({ rig, from, to, person }: Way, time: number, more = ""): Documents {
  return {
    ...KIT,
    "m.move.yaml": `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
tolerance: { crossing: 1 s${more} }
keys:
  - { at: 0 s, axes: { ${from} } }
  - { at: ${time} s, axes: { ${to} } }
`,
    "studio.set.yaml": `set: 1
people: { potter: { sphere: { radius: 0.2 }, at: [${person.join(", ")}] } }
`,
  };
}

const found = (all: Documents, severity: "error" | "warning"): readonly PlacedFinding[] =>
  findingsOfCode(all, "m.move.yaml", "people").filter((finding) => finding.severity === severity);

describe("the amount by which people are too near", () => {
  for (const way of WAYS) {
    it(`is what the person has to step aside from the ${way.rig}`, () => {
      const [finding] = found(documents(way, 12), "error");
      assert.ok(finding?.segment && finding.value !== undefined && finding.limit !== undefined);
      const { from, to } = finding.segment;
      const length = Math.hypot(...to.map((part, k) => part - from[k]));
      const sign = Math.sign(finding.value);
      const aside = (by: number): Documents => {
        const person = way.person.map((part, k) => part + (sign * by * (to[k] - from[k])) / length);
        return documents({ ...way, person: [person[0], person[1], person[2]] }, 12);
      };
      const amount = finding.limit - finding.value;
      assert.equal(found(aside(amount + 2e-6), "error").length, 0);
      assert.equal(found(aside(0.9 * amount), "error").length, 1);
    });
  }
});

describe("the amount by which the rig is too fast beside people", () => {
  for (const way of WAYS) {
    // Slowly enough for its own limits, and too near to nobody.
    const apart = { ...way, person: [way.person[0] + 0.15, way.person[1] + 0.2, way.person[2]] as const };

    it(`is by how much more time the ${way.rig} needs`, () => {
      const [finding, ...others] = found(documents(apart, 3.4), "warning");
      assert.ok(finding?.value !== undefined && finding.limit === 0.25);
      assert.equal(others.length, 0);
      const need = finding.value / finding.limit;
      assert.equal(found(documents(apart, 3.4 * need * (1 + 1e-6)), "warning").length, 0);
      assert.equal(found(documents(apart, 3.4 * (1 + 0.9 * (need - 1))), "warning").length, 1);
    });

    it(`is cured by the speed at which the ${way.rig} is played`, () => {
      assertCures(documents(apart, 3.4), "m.move.yaml", "people");
    });

    it(`holds for people nearer to the ${way.rig} than the move says`, () => {
      const [finding] = found(documents(apart, 3.4), "warning");
      const { from, to } = finding.segment!;
      const distance = Math.hypot(...to.map((part, k) => part - from[k]));
      assert.equal(found(documents(apart, 3.4, `, people: ${(0.3 * distance).toFixed(3)} m`), "warning").length, 0);
    });
  }

  it("is cured where the keys have speeds of their own, and where the move has one", () => {
    const all = documents(WAYS[0], 3);
    const keyed = all["m.move.yaml"].replace("at: 0 s,", "at: 0 s, speed: 90 %,");
    for (const text of [keyed, keyed.replace("keys:", "speed: 80 %\nkeys:")]) {
      assertCures({ ...all, "m.move.yaml": text }, "m.move.yaml", "people");
    }
  });

  it("has no cure in the text where a target goes on in its own time", () => {
    const all = documents(WAYS[0], 3.4);
    const follow = "{ follow: [{ at: 0 s, to: [2, 0, 1] }, { at: 5 s, to: [2, 1, 1] }] }";
    const set = `${all["studio.set.yaml"]}targets: { tea: ${follow} }\n`;
    const fast = found({ ...all, "studio.set.yaml": set }, "warning");
    assert.equal(fast.length, 1);
    assert.deepEqual(fast[0].cures, []);
  });
});
