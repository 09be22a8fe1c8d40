import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { assertCures, cured, findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

/** A 35 mm lens on 25.34 mm and 3840 px: 5303.8674 px of focal length. */
const CAMERA = `camera: 1
body: { sensor: [25.34 mm, 14.25375 mm], resolution: [3840, 2160], flange: 44 mm }
lenses:
  normal: { focal: 35 mm, pupil: 0 mm }
shutter: 180 deg
`;

describe("blur", () => {
  it("of a pan is f_px ω t in the middle and 1.1310 times that at the edges: 19.2854 px at 10 deg/s, 1/48 s", () => {
    const [finding] = findingsOfCode(
      {
        ...KIT,
        "a.camera.yaml": CAMERA,
        "m.move.yaml": `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: normal }
rate: 24
tolerance: { blur: 15 px }
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 5 s, axes: { pan: 40 }, ease: { linear: { ramp: 1 s } } }
`,
      },
      "m.move.yaml",
      "blur",
    );
    assert.ok(Math.abs((finding.value ?? NaN) - 19.2854) < 5e-5, `${finding.value}`);
    // 19.2854 px · 1.1310 = 21.8 px.
    assert.match(
      finding.message,
      /^The far background smears over 19\.3 px .* \(1\/48 s at 180 deg\), 4\.3 px more than the 15 px allowed; at the edges .* 21\.8 px;/,
    );
  });

  it("of a sideways dolly is f_px v t / Z: 18.4162 px at 0.5 m/s and 3 m", () => {
    const [finding] = findingsOfCode(
      {
        ...KIT,
        "a.camera.yaml": CAMERA,
        "ahead.set.yaml": `set: 1\ntargets:\n  ahead: { at: [3.04, 0, 1.2] }\n`,
        "m.move.yaml": `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: normal }
set: ahead.set.yaml
rate: 24
tolerance: { blur: 15 px }
keys:
  - { at: 0 s, axes: { slide: -0.5, pan: 0, tilt: 0 }, focus: ahead }
  - { at: 3 s, axes: { slide: 0.5 }, ease: { linear: { ramp: 1 s } } }
`,
      },
      "m.move.yaml",
      "blur",
    );
    assert.ok(Math.abs((finding.value ?? NaN) - 18.4162) < 5e-5, `${finding.value}`);
  });

  it("is found on a subject whose framing goes over more than the move allows", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { blur: 10 px }
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: { at: lid, framing: [0.45, 0.5] } }
  - { at: 2 s, name: over, axes: { slide: 0 }, aim: { framing: [0.55, 0.5] } }
#         ^^^ warning blur: lid smears over 11.5 px at 00:00:01:00 (frame 25) while the shutter is open (1/50 s at 180 deg), 1.5 px more than the 10 px allowed; at the edges of the delivered picture the far background smears over 17.2 px; stretch the 2 s from key 1 to over to about 2.31 s, or shorten the shutter.
`);
  });

  it("is not found just inside, nor in a move that says nothing of it", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { blur: 12 px }
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: { at: lid, framing: [0.45, 0.5] } }
  - { at: 2 s, name: over, axes: { slide: 0 }, aim: { framing: [0.55, 0.5] } }
#- n.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { crossing: 2 s }
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 3 s, axes: { pan: 40 } }
`);
  });
});

/** Each rig passes the lid sideways by its own first axis, without an aim. */
const RIGS: Readonly<Record<string, readonly [still: string, moving: string, from: number, to: number]>> = {
  slider: ["pan: 0, tilt: 0", "slide", -0.2, 0.2],
  crane: ["pan: 0, tilt: 0, lift: 0", "swing", -5, 5],
  telescope: ["pan: 0, tilt: 0, lift: 0, swing: 20", "tube", -0.1, 0.3],
};

const passing = (rig: string, seconds: number, camera = KIT["a.camera.yaml"]): Documents => {
  const [still, moving, from, to] = RIGS[rig];
  return {
    ...KIT,
    "a.camera.yaml": camera,
    "far.set.yaml": "set: 1\ntargets:\n  lid: { at: [4, 0.4, 1.1] }\n",
    "m.move.yaml": `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: far.set.yaml
tolerance: { blur: 2 px, crossing: 0.5 s }
keys:
  - { at: 0 s, axes: { ${still}, ${moving}: ${from} }, focus: lid }
  - { at: ${seconds} s, axes: { ${moving}: ${to} } }
`,
  };
};

describe("the pixels by which blur fails", () => {
  for (const rig of Object.keys(RIGS)) {
    const found = (documents: Documents) => findingsOfCode(documents, "m.move.yaml", "blur");

    it(`are right on the ${rig}: stretched by their share the finding goes, by 90 % of it stays`, () => {
      const [{ value = NaN, limit }] = found(passing(rig, 2));
      assert.equal(limit, 2);
      assert.ok(2.2 < value, `${value}`);
      const need = value / 2 - 1;
      assert.deepEqual(found(passing(rig, 2 * (1 + need * 1.001))), []);
      assert.equal(found(passing(rig, 2 * (1 + need * 0.9))).length, 1);
    });

    it(`are cured on the ${rig} by the shutter that the fix says, where the camera states one`, () => {
      assert.deepEqual(
        found(passing(rig, 2)).flatMap(({ cures }) => cures),
        [],
      );
      const stated = passing(rig, 2, `${KIT["a.camera.yaml"]}shutter: 172.8 deg\n`);
      assertCures(stated, "m.move.yaml", "blur");
      const [cure] = found(stated)[0].cures;
      assert.match(cure.title, /^Set `shutter` to [\d.]+ deg: \d\.\d stops less light$/);
      // No wider one in steps of 0.1 deg would do.
      const angle = Number(/to ([\d.]+) deg/.exec(cure.title)?.[1]);
      const wider = cured(stated, {
        ...cure,
        edits: cure.edits.map((edit) => ({ ...edit, text: `${(angle + 0.1).toFixed(1)} deg` })),
      });
      assert.equal(found(wider).length, 1);
    });
  }

  it("are cured in JSON too", () => {
    const camera = JSON.stringify({
      camera: 1,
      body: { sensor: ["36 mm", "20.25 mm"], resolution: [6144, 3456], flange: "44 mm" },
      lenses: { wide: { focal: "24 mm", pupil: "50 mm" } },
      shutter: 180,
    });
    const documents = passing("slider", 2);
    const move = documents["m.move.yaml"].replace("a.camera.yaml", "a.camera.json");
    assertCures({ ...documents, "a.camera.json": camera, "m.move.yaml": move }, "m.move.yaml", "blur");
  });
});
