import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { assertCures, findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("crop-margin", () => {
  it("is found where the whole picture is delivered and still to be stabilised", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
stabilise: 5 %
#          ^^^ error crop-margin: The whole captured picture is delivered, so no margin lies around it; of each side stabilising may take 153.6 px and 86.4 px, framing errors may take 4 px: short by 157.6 px on the left and right and 90.4 px at the top and bottom; deliver a smaller crop, or lower \`stabilise\`.
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: lid }
  - { at: 4 s, axes: { slide: 0.4 } }
`);
  });

  it("is not found where nothing is cropped and nothing stabilised", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: lid }
  - { at: 4 s, axes: { slide: 0.4 } }
`);
  });

  it("is not found just inside: 6144 - 5 % - 2 x 4 px is 5828.8, 3456 less the same is 3275.2", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
deliver: [5828, 3275]
stabilise: 5 %
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: lid }
  - { at: 4 s, axes: { slide: 0.4 } }
#- n.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
deliver: [5829, 3276]
stabilise: 5 %
#          ^^^ error crop-margin: Around the delivered crop lie 157.5 px on the left and right and 90 px at the top and bottom; of each side stabilising may take 153.6 px and 86.4 px, framing errors may take 4 px: short by 0.1 px on the left and right and 0.4 px at the top and bottom; deliver a smaller crop, or lower \`stabilise\`.
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: lid }
  - { at: 4 s, axes: { slide: 0.4 } }
`);
  });

  it("counts no framing error where nothing is aimed at", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
deliver: [5836, 3282]
stabilise: 5 %
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.4 } }
`);
  });

  it("is found where a crop that is scaled leaves less than the framing may be off, and not across a width that is whole", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
deliver: { size: [3072, 1725], crop: [6144, 3450] }
#        ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error crop-margin: Around the delivered crop lie 0 px on the left and right and 3 px at the top and bottom; of each side framing errors may take 8 px: short by 5 px at the top and bottom; deliver a smaller crop, or allow less error.
tolerance: { aim: 8 px }
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: lid }
  - { at: 4 s, axes: { slide: 0.4 } }
`);
  });
});

describe("crop-margin of several passes", () => {
  const rig = KIT["slider.rig.yaml"].replace(/(axis: slide, .*) \}$/m, "$1, repeat: { sigma: 1 mm } }");
  const found = (passes: string, crop: string) =>
    findingsOfCode(
      {
        ...KIT,
        "slider.rig.yaml": rig,
        "m.move.yaml": `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
deliver: ${crop}
${passes}tolerance: { match: 100 px }
keys:
  - { at: 0 s, axes: { slide: -0.001 }, aim: lid }
  - { at: 4 s, axes: { slide: 0.001 } }
`,
      },
      "m.move.yaml",
      "crop-margin",
    );

  it("counts how far the last one may be off the first", () => {
    // The pupil is 0.09 m before the pan axis and the lid 2 m, 0.05 m lower than the lens; 4096 px of focal length. Two
    // draws of 1 mm differ by 1.414 mm: 3.03 px at 1.911 m, and 1.96 times that holds 95 %.
    const [{ value = NaN, message }] = found("passes: [{ name: a, times: 3 }]\n", "[6130, 3442]");
    const expected = 4 + ((1.95996 * Math.SQRT2 * 0.001) / 1.911) * 4096;
    assert.ok(Math.abs(value - expected) < 0.02, `${value} is not ${expected}`);
    assert.match(message, /framing errors may take 4 px, the spread of passes may take 5\.9 px: short by 2\.9 px/);
    assert.deepEqual(found("passes: [{ name: a, times: 3 }]\n", "[6122, 3434]"), []);
    assert.deepEqual(found("passes: [{ name: a }]\n", "[6130, 3442]"), []);
  });
});

const RIGS: Readonly<Record<string, string>> = {
  slider: "slide",
  crane: "swing",
  telescope: "lift",
};

const moveOf = (rig: string, crop: string): Documents => ({
  ...KIT,
  "m.move.yaml": `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
${crop}
tolerance: { aim: 6 px }
keys:
  - { at: 0 s, axes: { ${RIGS[rig]}: 0${rig === "slider" ? "" : rig === "crane" ? ", lift: 0" : ", swing: 0, tube: 0"} }, aim: lid }
  - { at: 4 s, axes: { ${RIGS[rig]}: ${rig === "slider" ? 0.3 : 8} } }
`,
});

describe("the pixels by which the margin is short", () => {
  const found = (documents: Documents) => findingsOfCode(documents, "m.move.yaml", "crop-margin");

  for (const rig of Object.keys(RIGS)) {
    it(`are right on the ${rig}: a crop smaller by them on each side fits, by 90 % of them does not`, () => {
      const [{ value = NaN, limit = NaN, message }] = found(moveOf(rig, "deliver: [6000, 3000]\nstabilise: 4 %"));
      // 4 % of 6144 px is 122.88 px on each side, and the framing may be 6 px off; 72 px are left.
      assert.ok(Math.abs(value - 128.88) < 1e-9 && limit === 72);
      assert.match(message, /short by 56\.9 px on the left and right;/);
      const short = value - limit;
      assert.deepEqual(found(moveOf(rig, `deliver: [${Math.floor(6000 - 2 * short)}, 3000]\nstabilise: 4 %`)), []);
      assert.equal(found(moveOf(rig, `deliver: [${Math.floor(6000 - 1.8 * short)}, 3000]\nstabilise: 4 %`)).length, 1);
    });

    it(`are cured on the ${rig} by less stabilising, by a smaller crop, by a crop where there was none`, () => {
      assertCures(moveOf(rig, "deliver: [6000, 3000]\nstabilise: 4 %"), "m.move.yaml", "crop-margin", 2);
      assertCures(
        moveOf(rig, "deliver: { size: [3000, 1500], crop: [6000, 3000] }\nstabilise: 4 %"),
        "m.move.yaml",
        "crop-margin",
        2,
      );
      assertCures(moveOf(rig, "stabilise: 4 %"), "m.move.yaml", "crop-margin", 1);
    });
  }

  const titles = (documents: Documents): string[] =>
    found(documents).flatMap(({ cures }) => cures.map(({ title }) => title));

  it("are cured by the most that fits", () => {
    // 72 px - 6 px are 2.148 % of half the width; 5886.24 px across fit, in the shape of 2 to 1 and even numbers.
    assert.deepEqual(titles(moveOf("slider", "deliver: [6000, 3000]\nstabilise: 4 %")), [
      "Set `stabilise` to 2.1 %",
      "Deliver a crop of 5886 x 2942 px",
    ]);
    assert.deepEqual(titles(moveOf("slider", "stabilise: 4 %")), ["Add `deliver: [5876, 3304]`"]);
  });

  it("are cured by no crop that the subject would be outside of", () => {
    const documents = moveOf("slider", "deliver: [6000, 3000]\nstabilise: 4 %");
    const text = documents["m.move.yaml"].replace("aim: lid", "aim: { at: lid, framing: [0.98, 0.5] }");
    assert.deepEqual(titles({ ...documents, "m.move.yaml": text }), ["Set `stabilise` to 2.1 %"]);
  });

  it("are cured in JSON too", () => {
    const move = {
      move: 1,
      rig: "slider.rig.yaml",
      camera: { use: "a.camera.yaml", lens: "wide" },
      set: "table.set.yaml",
      stabilise: "4 %",
      keys: [
        { at: 0, axes: { slide: 0 }, aim: "lid" },
        { at: 4, axes: { slide: 0.3 } },
      ],
    };
    assertCures({ ...KIT, "m.move.json": JSON.stringify(move, undefined, 2) }, "m.move.json", "crop-margin", 1);
  });
});
