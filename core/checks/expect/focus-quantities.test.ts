import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

// A lens of 24 mm at f/2.8 set to 1.6 m is 1.506 m from its pupil; the lid, 1.91 m away, is then
// f²/(N (s - f)) · |x - s| / x = 0.02936 mm wide: 97.9 % of the circle of confusion.

describe("expect of focus", () => {
  it("measures the distance, the motor and how wide a point of a target is", () => {
    check(`
#- lens.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, coc: 0.03 mm }
lenses:
  pulled: { focal: 24 mm, iris: 2.8, pupil: 50 mm, motors: { focus: { scale: [[infinity, 0 deg], [1 m, 90 deg]] } } }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: lens.camera.yaml, lens: pulled }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
    focus: 1.6 m
  - at: 4 s
    focus: 2 m
expect:
  - { of: focus.distance, between: [1.599, 2.001] }
  - { of: focus.distance, below: 1.9 }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: focus.distance is 2 m at 00:00:04:00 (frame 100), but at most 1.9 m is expected; change key 2, or what is expected.
  - { of: focus.speed, below: 1 deg/s }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: focus.speed is 5.32 deg/s at 00:00:01:20 (frame 45), but at most 1 deg/s is expected; change key 2, or what is expected.
  - { of: focus.speed, below: 6 deg/s }
  - { of: lid.defocus, below: 98 % }
  - { of: lid.defocus, below: 97.5 % }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: lid.defocus is 97.9 % at 00:00:00:00 (frame 0), but at most 97.5 % is expected; change key 1, or what is expected.
`);
  });

  it("says why a quantity has no value", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
  - at: 4 s
expect:
  - { of: focus.distance, above: 1 m }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: focus.distance has no value at 00:00:00:00 (frame 0), as no key gives a focus; 1 m at least is expected.
  - { of: focus.speed, below: 1 deg/s }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: focus.speed has no value at 00:00:00:00 (frame 0), as no key gives a focus, or the lens has no focus motor with a scale; 1 deg/s at most is expected.
  - { of: lid.defocus, below: 100 % }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: lid.defocus has no value at 00:00:00:00 (frame 0), as no key gives a focus, or the target is behind the camera; 100 % at most is expected.
`);
  });
});
