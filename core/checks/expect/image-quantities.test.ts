import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

/** A 35 mm lens on 25.34 mm and 3840 px: 5303.8674 px of focal length, an angle of view of 39.8005 deg; and a target 3 m ahead. */
const BESIDE = {
  ...KIT,
  "a.camera.yaml": `camera: 1
body: { sensor: [25.34 mm, 14.25375 mm], resolution: [3840, 2160], flange: 44 mm }
lenses:
  normal: { focal: 35 mm, pupil: 0 mm }
shutter: 180 deg
`,
  "ahead.set.yaml": `set: 1
targets:
  ahead: { at: [3.04, 0, 1.2] }
  behind: { at: [-1, 0, 1.2] }
`,
};

const check = (fixture: string): void => checkFindings(fixture, { beside: BESIDE });

describe("what a move expects of the picture's motion", () => {
  // f_px v t / Z: 0.5 m/s at 3 m go 18.4162 px in 1/48 s and twice that in a frame.
  it("tells a target's blur and its way from frame to frame", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: normal }
set: ahead.set.yaml
rate: 24
tolerance: { crossing: 1 s, near-limit: 100 % }
keys:
  - { at: 0 s, axes: { slide: -0.5, pan: 0, tilt: 0 } }
  - { at: 3 s, axes: { slide: 0.5 }, ease: { linear: { ramp: 1 s } } }
expect:
  - { of: ahead.blur, below: 18.4163 px }
  - { of: ahead.blur, below: 18.4161 px }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: ahead.blur is 18.4162 px at 00:00:01:00 (frame 24), but at most 18.4161 px is expected; change key 2, or what is expected.
  - { of: ahead.motion, below: 36.8326 px }
  - { of: ahead.motion, below: 36.8322 px }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: ahead.motion is 36.8324 px at 00:00:01:00 (frame 24), but at most 36.8322 px is expected; change key 2, or what is expected.
  - { of: behind.motion, below: 100 px }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: behind.motion has no value at 00:00:00:00 (frame 0), as the target is behind the camera; 100 px at most is expected.
`);
  });

  // 5.6858 deg/s cross 39.8005 deg in 7 s; at rest nothing crosses.
  it("tells in which time the far background crosses the picture", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: normal }
set: ahead.set.yaml
rate: 24
tolerance: { crossing: 1 s }
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 5 s, axes: { pan: 22.7432 }, ease: { linear: { ramp: 1 s } } }
expect:
  - { of: camera.crossing, above: 6.999 s }
  - { of: camera.crossing, above: 7.001 s }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: camera.crossing is 7 s at 00:00:01:00 (frame 24), but at least 7.001 s is expected; change key 2, or what is expected.
  - { of: camera.crossing, below: 8 s, from: 2 s, to: 3 s }
  - { of: camera.crossing, below: 8 s }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: camera.crossing is infinite at 00:00:00:00 (frame 0), but at most 8 s is expected; change key 1, or what is expected.
`);
  });
});
