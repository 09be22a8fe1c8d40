import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { findingsOfCode } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

// One axis that errs along one direction of the picture: the slide, at right angles to a view that does not turn. The lid is
// level with the pupil and 1.91 m before it, so 1 mm is 24/36 · 6144 px · 1 mm / 1.91 m = 2.144503 px.
const RIG = `rig: 1
name: Slider
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], origin: { at: [0, 0, 1.1] }, range: [-1, 1], repeat: { sigma: 0.1 mm, slip: 0.2 mm/m, backlash: 2 mm } }
  - { axis: pan, type: rotary, range: [-100, 100] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-95, 60] }
head: { pan: pan, tilt: tilt }
camera-mount: { at: [0.04, 0, 0] }
`;
const BESIDE = { ...KIT, "slider.rig.yaml": RIG };

const PX = (24 / 36) * 6144 * (0.001 / 1.91);

function measured(of: string, passes: number, at = "4 s"): number {
  const text = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 8 s, axes: { slide: 0.5 } }
passes: [{ name: a, times: ${passes} }]
expect: [{ of: lid.${of}, below: -1 px, at: ${at} }]
`;
  const [{ value }] = findingsOfCode({ ...BESIDE, "m.move.yaml": text }, "m.move.yaml", "expect");
  return value!;
}

const near = (actual: number, expected: number): void =>
  assert.ok(Math.abs(actual - expected) < 1e-6 * Math.max(1, expected), `${actual} is not ${expected}`);

describe("pass errors that are expected", () => {
  it("are 1.959964 deviations along a line: √(2 · 0.1² + (n - 1) · (0.2 · 1)²) mm for 1 m there and back", () => {
    near(measured("pass-error", 2), 1.959963985 * Math.sqrt(0.02 + 0.04) * PX);
    near(measured("pass-error", 26), 1.959963985 * Math.sqrt(0.02 + 1) * PX);
    near(measured("pass-error", 1), 0);
  });

  it("against what is drawn hold half of the play of 2 mm, 1 mm aside, and one draw", () => {
    // 95 % within r of a normal distribution (1 mm, 0.1 mm): Φ((r - 1)/0.1) = .95, so r = 1 + 0.1 · 1.644854.
    near(measured("plan-error", 1), 1.1644853627 * PX);
    // Before its first motion the slide stands as the way back has left it: on the other side, as far off.
    near(measured("plan-error", 1, "0 s"), 1.1644853627 * PX);
  });

  it("hold between their bounds, and have no value for what is behind the camera", () => {
    checkFindings(
      `
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: back.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 8 s
    axes: { slide: 0.5 }
passes: [{ name: a, times: 2 }]
expect:
  - { of: lid.pass-error, below: 1.03 px, above: 1.02 px }
  - { of: lid.pass-error, below: 1 px }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: lid.pass-error is 1.03 px at 00:00:00:00 (frame 0), but at most 1 px is expected; change key 1, or what is expected.
  - { of: lid.plan-error, above: 2.5 px }
  - { of: lamp.pass-error, below: 1 px }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: lamp.pass-error has no value at 00:00:00:00 (frame 0), as the target is behind the camera; 1 px at most is expected.
  - { of: lid.pass-eror, below: 1 px }
#         ^^^^^^^^^^^^^ error wrong-type: \`lid.pass-eror\` is no quantity of the motion. Did you mean \`lid.pass-error\`?
#- back.set.yaml
set: 1
targets:
  lid: { at: [2, 0, 1.1] }
  lamp: { at: [-2, 0, 1.1] }
`,
      { beside: BESIDE },
    );
  });
});
