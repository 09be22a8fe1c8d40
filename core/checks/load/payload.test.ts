import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

const MOVE = (rig: string, lens: string): string => `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: ${lens} }
set: table.set.yaml
keys:
  - { at: 0 s, aim: lid, axes: { ${rig === "slider" ? "slide: 0" : rig === "crane" ? "swing: 0, lift: 5" : "swing: 0, lift: 5, tube: 0"} } }
`;

const documents = (rig: string, limit: string, lens = "wide", camera = KIT["a.camera.yaml"]): Documents => ({
  ...KIT,
  [`${rig}.rig.yaml`]: `${KIT[`${rig}.rig.yaml`]}payload: { limit: ${limit} }\n`,
  "a.camera.yaml": camera,
  "m.move.yaml": MOVE(rig, lens),
});

const found = (all: Documents): readonly { readonly message: string; readonly value?: number }[] =>
  findingsOfCode(all, "m.move.yaml", "payload");

describe("payload", () => {
  it("names what the head carries, its limit, and by how much it is too much", () => {
    check(`
#- heavy.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, mass: 1.9 kg }
lenses:
  wide: { focal: 24 mm, pupil: 50 mm, mass: 0.7 kg }
attachments:
  - { name: matte-box, box: [0.05, 0.16, 0.12], at: [0.12, 0, 0], mass: 0.4 kg }
  - { name: flag, box: [0.2, 0.2, 0.01], at: [0, 0, 0.1] }
#- small.rig.yaml
rig: 1
chain:
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1.3] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 0.1] } }
head: { pan: pan, tilt: tilt }
payload: { limit: 2.5 kg }
#- m.move.yaml
move: 1
rig: small.rig.yaml
camera: { use: heavy.camera.yaml, lens: wide }
#              ^^^^^^^^^^^^^^^^^ error payload: The head carries 3 kg (heavy 1.9 kg, wide 0.7 kg, matte-box 0.4 kg), 0.5 kg more than its limit of 2.5 kg; take a lighter lens or leave an attachment away.
set: table.set.yaml
keys:
  - { at: 0 s, aim: lid }
`);
  });

  it("lets the head carry its limit", () => {
    check(`
#- exact.rig.yaml
rig: 1
chain:
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1.3] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 0.1] } }
head: { pan: pan, tilt: tilt }
payload: { limit: 2.6 kg }
#- m.move.yaml
move: 1
rig: exact.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, aim: lid }
`);
  });

  for (const rig of ["slider", "crane", "telescope"]) {
    it(`states an amount that is right on the ${rig}`, () => {
      // 1.9 kg of body and 0.9 kg of lens.
      const [finding, ...more] = found(documents(rig, "2.4 kg", "long"));
      assert.equal(more.length, 0);
      const by = Number(/, ([\d.]+) kg more than/.exec(finding.message)?.[1]);
      assert.equal(by, 0.4);
      assert.equal(finding.value, 2.8);
      assert.equal(found(documents(rig, `${2.4 + by} kg`, "long")).length, 0);
      assert.equal(found(documents(rig, `${2.4 + 0.9 * by} kg`, "long")).length, 1);
      const lighter = (share: number): string =>
        KIT["a.camera.yaml"].replace("mass: 1.9 kg", `mass: ${1.9 - share * by} kg`);
      assert.equal(found(documents(rig, "2.4 kg", "long", lighter(1))).length, 0);
      assert.equal(found(documents(rig, "2.4 kg", "long", lighter(0.9))).length, 1);
    });
  }

  it("points at the limit and at what weighs", () => {
    const [finding] = findingsOfCode(documents("crane", "2 kg"), "m.move.yaml", "payload");
    const text = (file: string, { start, end }: { start: number; end: number }): string =>
      documents("crane", "2 kg")[file].slice(start, end);
    assert.deepEqual(
      finding.related.map(({ place, message }) => `${place.file}: ${text(place.file, place.span)}: ${message}`),
      [
        "crane.rig.yaml: 2 kg: the limit is stated here",
        "a.camera.yaml: 1.9 kg: this weight counts",
        "a.camera.yaml: 0.7 kg: this weight counts",
      ],
    );
  });
});
