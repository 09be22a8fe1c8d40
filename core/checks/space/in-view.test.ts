import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { optics } from "../../../test/support/lenses.ts";
import { surfacePoints } from "../../../test/support/spaces.ts";
import { project } from "../../lens/project.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

/** Pupil of each rig in the frame of its pan axis while tilt is at 0: the tilt axis, the mount, and 50 mm of the lens [m]. */
const RIGS = {
  slider: { still: "slide: 0, pan: 0, tilt: 0", pupil: [0.09, 0, 0.15] },
  crane: { still: "swing: 0, lift: 0, pan: 0, tilt: 0", pupil: [0.09, 0, -0.15] },
  telescope: { still: "swing: 0, lift: 0, tube: 0, pan: 0, tilt: 0", pupil: [0.09, 0, -0.15] },
} as const;
type RigName = keyof typeof RIGS;

/** A flag on the pan axis to the left of the view: 0.1 m deep, its right edge at `y`, its far side 0.56 m before the pupil. */
function documents(rig: RigName, y: number, lens = "wide", more = ""): Documents {
  const { still, pupil } = RIGS[rig];
  const at = [pupil[0] + 0.51, y + 0.1, pupil[2]];
  return {
    ...KIT,
    "flag.rig.yaml": `${KIT[`${rig}.rig.yaml`]}bodies: [{ name: flag, on: pan, box: [0.1, 0.2, 1], at: [${at.join(", ")}] }]\n`,
    "m.move.yaml": `move: 1
rig: flag.rig.yaml
camera: { use: ${lens === "wide" ? "a" : "bent"}.camera.yaml, lens: ${lens} }
tolerance: { crossing: 1 ms${more} }
keys:
  - { at: 0 s, axes: { ${still} } }
  - { at: 4 s, axes: { pan: 10 } }
`,
    "bent.camera.yaml": `camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, mass: 1.9 kg }
lenses:
  bent: { focal: 24 mm, iris: 2.8, pupil: 50 mm, distortion: { k: [-0.1, 0.02, 0], p: [0.0004, -0.0003] } }
`,
  };
}

const found = (all: Documents) => findingsOfCode(all, "m.move.yaml", "in-view");

describe("in-view", () => {
  it("finds a flag in the picture of a time-lapse that takes 28 hours", () => {
    const all = documents("slider", 0.4);
    const slow = all["m.move.yaml"].replace("at: 0 s,", "at: 0 s, hold: 100000 s,").replace("at: 4 s", "at: 200000 s");
    const [finding, ...rest] = found({ ...all, "m.move.yaml": slow });
    assert.equal(rest.length, 0);
    assert.deepEqual(finding.time, { from: 0, to: 200000 });
  });

  for (const rig of Object.keys(RIGS) as RigName[]) {
    it(`tells how far a flag on the ${rig} reaches in, from the pinhole: across = 0.5 - f / w * Y / X`, () => {
      const y = 0.4;
      const reach = 6144 * (0.5 - ((24 / 36) * y) / 0.56);
      const [finding, ...rest] = found(documents(rig, y));
      assert.equal(rest.length, 0);
      assert.ok(finding.value !== undefined && Math.abs(finding.value - reach) < 0.05, `${finding.value}, ${reach}`);
      assert.match(finding.message, /from the left edge/);
      assert.deepEqual(finding.time, { from: 0, to: 4 });
      // What it reaches in, in metres at its far side.
      const width = (finding.value / 6144) * 0.56 * (36 / 24);
      assert.equal(found(documents(rig, y + width + 1e-5)).length, 0);
      assert.equal(found(documents(rig, y + 0.9 * width)).length, 1);
    });
  }

  it("finds what the base carries where a pan brings it into the picture, only from then on", () => {
    const all = (pan: number): Documents => ({
      ...documents("slider", 5),
      "flag.rig.yaml": `${KIT["slider.rig.yaml"]}bodies: [{ name: stand, on: base, cylinder: { radius: 0.03, height: 3 }, at: [0, 1, 1.5] }]\n`,
      "m.move.yaml": `move: 1
rig: flag.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { crossing: 1 ms }
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 8 s, axes: { pan: ${pan} } }
`,
    });
    const [finding, ...rest] = found(all(90));
    assert.equal(rest.length, 0);
    assert.ok(finding.time && 2 < finding.time.from && finding.time.to === 8);
    // Half the picture spans atan(18 / 24) = 36.87 deg; seen from the pupil the stand's edge is a little to the side.
    assert.equal(found(all(45)).length, 0);
  });

  it("measures with distortion: as far in as the points of its surface are pictured", () => {
    const lens = optics({ distortion: { k1: -0.1, k2: 0.02, k3: 0, p1: 0.0004, p2: -0.0003 } });
    const out = [0, 0];
    let most = 0;
    for (const [x, y, z] of surfacePoints({ shape: "box", size: [0.1, 0.2, 1] }, 120)) {
      if (!project(lens, 0.024, x + 0.51, y + 0.48, z, out)) continue;
      const [across, down] = [out[0] * 6144, out[1] * 3456];
      most = Math.max(most, Math.min(across, 6144 - across, down, 3456 - down));
    }
    const [finding] = found(documents("slider", 0.38, "bent"));
    assert.ok(0 < most && Math.abs(finding.value! - most) < 1.5, `${finding.value}, ${most}`);
  });

  it("is a warning where the delivered crop is free of it, and nothing from behind the lens's front on", () => {
    check(`
#- flag.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], origin: { at: [0, 0, 1] }, range: [-1, 1] }
  - { axis: pan, type: rotary, range: [-100, 100] }
bodies:
  - { name: camera-body, on: pan, box: [0.16, 0.1, 0.1], at: [-0.08, 0, 0] }
  - { name: flag, on: slide, box: [0.1, 0.2, 1], at: [0.56, 0.5, 0] }
#- full.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, mass: 1.9 kg }
lenses:
  wide: { focal: 24 mm, iris: 2.8, pupil: 50 mm, front: { length: 110 mm, diameter: 82 mm } }
attachments:
  - { name: matte-box, box: [0.05, 0.16, 0.12], at: [0.12, 0, 0] }
#- crop.move.yaml
move: 1
rig: flag.rig.yaml
camera: { use: full.camera.yaml, lens: wide }
deliver: [3840, 2160]
tolerance: { crossing: 1 ms }
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0 } }
#         ^^^ warning in-view: flag is in the picture at 00:00:00:00 (frame 0): it reaches 146.3 px in from the left edge; the delivered crop is free of it; change the pose at key 1 so that it leaves the view, or take a longer lens.
  - { at: 4 s, axes: { pan: -10 } }
#- whole.move.yaml
move: 1
rig: flag.rig.yaml
camera: { use: full.camera.yaml, lens: wide }
tolerance: { crossing: 1 ms }
keys:
  - { at: 0 s, axes: { slide: 0, pan: -10 } }
  - { at: 4 s, axes: { pan: 0 } }
#         ^^^ error in-view: flag is in the picture at 00:00:03:24 (frame 99): it reaches 146.3 px in from the left edge; change the pose at key 2 so that it leaves the view, or take a longer lens.
#- clear.move.yaml
move: 1
rig: flag.rig.yaml
camera: { use: full.camera.yaml, lens: wide }
tolerance: { crossing: 1 ms }
keys:
  - { at: 0 s, axes: { slide: 0, pan: -10 } }
  - { at: 4 s, axes: { pan: -20 } }
`);
  });
});
