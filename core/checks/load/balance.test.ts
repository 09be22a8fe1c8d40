import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { assertCures, cured, findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

/** An arm that turns about its lift alone, with a weight of its own behind and a load of 12 kg at 2.4 m: no camera weighs. */
const JIB = (weight: string): string => `rig: 1
chain:
  - { axis: lift, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 1.2] }, range: [-40, 40] }
  - { axis: pan, type: rotary, origin: { at: [2.4, 0, 0] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
masses: [{ on: pan, mass: 12 kg }]
counterweight: { on: lift, at: [-0.6, 0, 0], ${weight} }
`;

const LIGHT = `camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  wide: { focal: 24 mm, pupil: 50 mm }
`;

const MOVE = (rig: string, axes: string): string => `move: 1
rig: ${rig}.rig.yaml
camera: { use: ${rig === "jib" ? "light" : "a"}.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, aim: lid, axes: { ${axes} } }
`;

const jib = (weight: string, axes = "lift: 10"): Documents => ({
  ...KIT,
  "light.camera.yaml": LIGHT,
  "jib.rig.yaml": JIB(weight),
  "m.move.yaml": MOVE("jib", axes),
});

const AXES: Readonly<Record<string, string>> = {
  jib: "lift: 10",
  crane: "swing: 0, lift: 5",
  telescope: "swing: 0, lift: 5, tube: 0.2",
};

/** A rig of the kit with masses; the weight hangs below the line of the arm, so that no mass is right at every height. */
const laden = (rig: string, weight: string, masses: string, axes = AXES[rig]): Documents => ({
  ...KIT,
  [`${rig}.rig.yaml`]: `${KIT[`${rig}.rig.yaml`]}masses: [${masses}]\ncounterweight: { on: lift, ${weight} }\n`,
  "m.move.yaml": MOVE(rig, axes),
});

const ARM = "{ on: lift, at: [0.4, 0, 0], mass: 8 kg }, { on: pan, at: [0, 0, -0.1], mass: 4 kg }";
const found = (all: Documents) => findingsOfCode(all, "m.move.yaml", "balance");
const tolerance = (weight: string, share: number): string => `${weight}, tolerance: ${100 * share} %`;

describe("balance", () => {
  it("names what is left, the mass for mid-lift, and what is then left at the ends", () => {
    check(`
#- light.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  wide: { focal: 24 mm, pupil: 50 mm }
#- jib.rig.yaml
rig: 1
chain:
  - { axis: lift, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 1.2] }, range: [-40, 40] }
  - { axis: pan, type: rotary, origin: { at: [2.4, 0, 0] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
masses: [{ on: pan, mass: 12 kg }]
counterweight: { on: lift, at: [-0.6, 0, 0], mass: 40 kg }
#- m.move.yaml
move: 1
rig: jib.rig.yaml
#    ^^^^^^^^^^^^ warning balance: The arm is out of balance about lift at 00:00:00:00 (frame 0): with lift at 0 deg, 47.1 N·m (8 kg at the counterweight's arm) are left, 16.7 % of what the load has with the arm level, and 10 % may be; 48 kg in place of 40 kg would balance it at mid-lift, and then 0 N·m (0 kg) are left at the low end and 0 N·m (0 kg) at the high end.
camera: { use: light.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { lift: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { lift: 20 } }
`);
  });

  it("lets a tenth of the load's moment be left, or what the rig says", () => {
    check(`
#- light.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  wide: { focal: 24 mm, pupil: 50 mm }
#- jib.rig.yaml
rig: 1
chain:
  - { axis: lift, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 1.2] }, range: [-40, 40] }
  - { axis: pan, type: rotary, origin: { at: [2.4, 0, 0] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
masses: [{ on: pan, mass: 12 kg }]
counterweight: { on: lift, at: [-0.6, 0, 0], mass: 43.2 kg }
#- m.move.yaml
move: 1
rig: jib.rig.yaml
camera: { use: light.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { lift: 0, pan: 0, tilt: 0 } }
`);
    assert.equal(found(jib("mass: 43.1 kg")).length, 1);
    assert.equal(found(jib("mass: 40 kg, tolerance: 17 %")).length, 0);
    assert.equal(found(jib("mass: 40 kg, tolerance: 16 %")).length, 1);
  });

  it("holds 12 kg at 2.4 m, which are 282.432 N·m, with 48 kg at 0.6 m", () => {
    assert.equal(found(jib("mass: 48 kg, tolerance: 0 %")).length, 0);
    const [without] = found(jib("mass: 0 kg"));
    assert.match(without.message, /with lift at 0 deg, 282 N·m \(48 kg at the counterweight's arm\) are left, 100 %/);
    assert.match(without.message, /48 kg in place of 0 kg would balance it/);
    assert.equal(without.value, 100);
  });

  it("sees a head of 8 kg that hangs 15 mm off its tilt axis: 1.1768 N·m", () => {
    const rig = `rig: 1
chain:
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1.2] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-80, 80] }
head: { pan: pan, tilt: tilt }
masses: [{ on: tilt, at: [0.015, 0, 0], mass: 8 kg }]
counterweight: { on: tilt, at: [-0.1, 0, 0], mass: 0.6 kg, tolerance: 0 % }
`;
    const move = MOVE("jib", "").replace(", axes: {  }", "");
    const [finding] = found({ ...KIT, "light.camera.yaml": LIGHT, "jib.rig.yaml": rig, "m.move.yaml": move });
    // 1.1768 N·m less 0.6 kg at 0.1 m, 0.5884 N·m; 1.2 kg balance it.
    assert.match(finding.message, /0\.588 N·m \(0\.6 kg at .*1\.2 kg in place of 0\.6 kg would balance it at mid-lift/);
  });

  it("says nothing of an axis that stands upright, of a rig without masses, and without a counterweight", () => {
    const swing = `{ on: swing, at: [-1, 0, 0], mass: 30 kg }`;
    const upright = `${KIT["crane.rig.yaml"]}masses: [${ARM}]\ncounterweight: ${swing}\n`;
    const bare = `${KIT["crane.rig.yaml"]}counterweight: ${swing.replace("swing", "lift")}\n`;
    for (const rig of [upright, bare, KIT["crane.rig.yaml"]]) {
      assert.equal(found({ ...KIT, "crane.rig.yaml": rig, "m.move.yaml": MOVE("crane", AXES.crane) }).length, 0);
    }
  });

  it("counts the lean of the base, by which an upright axis is none", () => {
    const rig = `${KIT["crane.rig.yaml"]}masses: [${ARM}]\ncounterweight: { on: swing, at: [-0.5, 0, 0], mass: 1 kg }\n`;
    const leaning = MOVE("crane", AXES.crane).replace("keys:", "place: { lean: [20, 0] }\nkeys:");
    const [finding] = found({ ...KIT, "crane.rig.yaml": rig, "m.move.yaml": leaning });
    assert.match(finding.message, /out of balance about swing: with swing at -?0(\.\d+)? deg/);
  });

  it("finds the worst instant of a move where another axis changes the load", () => {
    // Balanced with the tube drawn in; drawn out by 1.2 m, the head and the camera pull with their weight times 1.2 m.
    const weight = "at: [-0.5, 0, 0], mass: 18 kg";
    const still = laden("telescope", weight, ARM, "swing: 0, lift: 5, tube: -0.6");
    const [before] = found(still);
    assert.equal(before, undefined);
    const move = `${still["m.move.yaml"]}  - { at: 8 s, axes: { tube: 0.6 } }\n`;
    const [finding] = found({ ...still, "m.move.yaml": move });
    assert.match(finding.message, /about lift at 00:00:08:00 \(frame 200\): with lift at 5 deg/);
    assert.equal(finding.peak, 8);
  });

  /** Rig, its documents with a weight, the weight, and a tolerance that tells nine tenths of its amount from all of it. */
  const CASES: readonly (readonly [string, (weight: string) => Documents, string, number])[] = [
    ["jib", (weight) => jib(weight.replace(/at: [^\]]*\], /, "")), "at: [-0.6, 0, 0], mass: 30 kg", 0.01],
    ["crane", (weight) => laden("crane", weight, ARM), "at: [-0.6, 0, -0.02], mass: 10 kg", 0.04],
    ["telescope", (weight) => laden("telescope", weight, ARM), "at: [-0.5, 0, -0.01], mass: 50 kg", 0.04],
  ];

  for (const [rig, documents, weight, tight] of CASES) {
    it(`states amounts that are right on the ${rig}, and cures what it says`, () => {
      const [finding, ...more] = found(documents(weight));
      assert.equal(more.length, 0);
      const share = (finding.value ?? NaN) / 100;
      assert.equal(found(documents(tolerance(weight, share + 1e-6))).length, 0);
      assert.equal(found(documents(tolerance(weight, 0.9 * share))).length, 1);
      // What is left there, as a mass in the counterweight's place, is what has to come or go.
      const missing = Number(/ \(([\d.]+) kg at the counterweight's arm\)/.exec(finding.message)?.[1]);
      const mass = Number(/mass: ([\d.]+) kg/.exec(weight)?.[1]);
      const better = Number(/; ([\d.]+) kg in place of/.exec(finding.message)?.[1]);
      const towards = Math.sign(better - mass);
      const changed = (by: number): string => weight.replace(/mass: .*/, `mass: ${mass + towards * by} kg`);
      assert.equal(found(documents(tolerance(changed(missing), tight))).length, 0, "the whole amount");
      assert.equal(found(documents(tolerance(changed(0.9 * missing), tight))).length, 1, "nine tenths of it");
      assertCures(documents(weight), "m.move.yaml", "balance");
      const [cure] = finding.cures;
      assert.equal(cure.title, `Set the counterweight's \`mass\` to ${better} kg`);
      // Then the message's ends are what is left there.
      const after = cured(documents(weight), cure);
      const strict = { ...after, [cure.file]: after[cure.file].replace(/mass: ([\d.]+) kg(, tolerance[^}]*)? \}\s*$/, "mass: $1 kg, tolerance: 0 % }\n") }; // prettier-ignore
      const [left] = found(strict);
      const ends = [...finding.message.matchAll(/([\d.]+) N·m \([\d.]+ kg\)/g)].map(([, text]) => Number(text));
      assert.equal(ends.length, 2);
      if (left) {
        const worst = Number(/, ([\d.]+) N·m \(/.exec(left.message)?.[1]);
        assert.ok(worst >= Math.max(...ends) * 0.98, `${worst} is left, ${ends.join(" and ")} at the ends`);
      }
    });
  }

  it("tells a counterweight on its axis, and one that has nothing to balance", () => {
    const [onAxis] = found(laden("crane", "at: [0, 0.3, 0], mass: 5 kg", ARM));
    assert.match(
      onAxis.message,
      /with lift at 0 deg, [\d.]+ N·m are left, 100 % of .*; no mass in the counterweight's place/,
    );
    assert.equal(onAxis.cures.length, 0);
    const idle = `${JIB("mass: 5 kg")}`.replace("on: pan, mass: 12 kg", "on: base, mass: 12 kg");
    const [nothing] = found({ ...jib(""), "jib.rig.yaml": idle });
    assert.match(
      nothing.message,
      /N·m \([\d.]+ kg at the counterweight's arm\) are left, and nothing is there to be balanced; take the counter/,
    );
    assert.equal(nothing.cures.length, 0);
  });

  it("offers no cure where the weight is on the load's side or its place is wrong", () => {
    const [onSide] = found(laden("crane", "at: [0.6, 0, 0], mass: 5 kg", ARM));
    assert.equal(onSide.cures.length, 0);
    assert.match(onSide.message, /no mass in the counterweight's place balances it at mid-lift: move it\.$/);
    // Far below the line of the arm, a weight that is right in the middle is wrong at the ends.
    const [low] = found(laden("crane", "at: [-0.3, 0, -0.6], mass: 5 kg", ARM));
    assert.equal(low.cures.length, 0);
    assert.match(low.message, /that is still too much, so move the counterweight too\.$/);
  });
});
