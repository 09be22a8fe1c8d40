import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

// A scale of two rows is even over one over the distance, and over stops: 60 deg from 1 m to 3 m are 90 deg a dioptre.

describe("focus-speed", () => {
  it("finds a rack that the focus motor cannot follow, each of its limits by itself", () => {
    check(`
#- lens.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, coc: 0.03 mm }
lenses:
  pulled:
    focal: 24 mm
    pupil: 50 mm
    close-focus: 0.3 m
    motors: { focus: { limits: { speed: 60, accel: 400, jerk: 5000 }, scale: [[3 m, 0 deg], [1 m, 60 deg], [0.3 m, 270 deg]] } }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: lens.camera.yaml, lens: pulled }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
    focus: lid
  - at: 1 s
    focus: near
#          ^^^^ error focus-speed: The focus motor turns at 331.9 deg/s at 00:00:00:18 (frame 18), 5.5 times its limit of 60 deg/s: focus goes from lid to near, at 0.6737 m here; stretch the 1 s from key 1 to key 2 to about 5.54 s, or rack between things that are nearer to each other.
#          ^^^^ error focus-speed: The focus motor accelerates at 2073 deg/s2 at 00:00:00:22 (frame 22), the worst of 2 times, 5.2 times its limit of 400 deg/s2: focus goes from lid to near, at 0.5197 m here; stretch the 1 s from key 1 to key 2 to about 2.28 s, or rack between things that are nearer to each other.
#          ^^^^ error focus-speed: The focus motor jerks at 32354 deg/s3 at 00:00:01:00 (frame 25), 6.5 times its limit of 5000 deg/s3: focus goes from lid to near, at 0.5009 m here; stretch the 1 s from key 1 to key 2 to about 1.87 s, or rack between things that are nearer to each other.
#          ^^^^ warning soft-subject: lid is out of focus at 00:00:01:00 (frame 25): 1.91 m in front of the entrance pupil it is 1.4679 m beyond the far end of the depth of field, 0.4421 m, and a point of it is 9.87 times the circle of confusion wide (f/4, focused at 0.5009 m from the sensor); focus on lid.
  - at: 3 s
    focus: 1.5 m
#          ^^^^^ error focus-speed: The focus motor turns at 135 deg/s at 00:00:01:15 (frame 40), 2.3 times its limit of 60 deg/s: focus goes from near to a set distance, at 0.6572 m here; stretch the 2 s from key 2 to key 3 to about 4.51 s, or rack between things that are nearer to each other.
`);
  });

  it("is content just inside the limits", () => {
    check(`
#- lens.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, coc: 0.03 mm }
lenses:
  pulled:
    focal: 24 mm
    pupil: 50 mm
    close-focus: 0.3 m
    motors: { focus: { limits: { speed: 60, accel: 200, jerk: 2000 }, scale: [[3 m, 0 deg], [1 m, 60 deg]] } }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: lens.camera.yaml, lens: pulled }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
    focus: 2 m
  - at: 1 s
    focus: 1.5 m
`);
  });

  it("finds an iris and a zoom that are pulled too fast", () => {
    check(`
#- lens.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, coc: 0.03 mm }
lenses:
  pulled:
    focal: [24 mm, 70 mm]
    iris: 2.8
    pupil: 50 mm
    motors:
      iris: { limits: { speed: 40 }, scale: [[2.8, 0], [5.6, 30], [22, 90]] }
      zoom: { limits: { accel: 200 }, scale: [[24 mm, 0], [70 mm, 92]] }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: lens.camera.yaml, lens: pulled }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
    iris: 2.8
    zoom: 24 mm
  - at: 1 s
    iris: 8
#         ^ error focus-speed: The iris motor turns at 87.9 deg/s at 00:00:00:10 (frame 10), 2.2 times its limit of 40 deg/s: the iris goes through f/4.3; stretch the 1 s from key 1 to key 2 to about 2.2 s.
    zoom: 60 mm
#         ^^^^^ error focus-speed: The zoom motor accelerates at 415.7 deg/s2 at 00:00:00:20 (frame 20), the worst of 2 times, 2.1 times its limit of 200 deg/s2: the zoom goes through 57.6 mm; stretch the 1 s from key 1 to key 2 to about 1.45 s.
`);
  });

  it("finds focus that stays on what comes too fast, at the key that brings it", () => {
    check(`
#- lens.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, coc: 0.03 mm }
lenses:
  pulled:
    focal: 24 mm
    pupil: 50 mm
    motors: { focus: { limits: { speed: 10 }, scale: [[3 m, 0 deg], [1 m, 60 deg]] } }
#- table.set.yaml
set: 1
targets:
  cup: { follow: [ { at: 0 s, to: [2, 0, 1.1] }, { at: 2 s, to: [1.2, 0, 1.1] } ] }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: lens.camera.yaml, lens: pulled }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: cup
    focus: cup
  - at: 2 s
#       ^^^ error focus-speed: The focus motor turns at 29 deg/s at 00:00:01:05 (frame 30), 2.9 times its limit of 10 deg/s: focus stays on cup, at 1.4468 m here; stretch the 2 s from key 1 to key 2 to about 5.81 s.
    axes: { slide: 0.1 }
`);
  });

  it("warns of focus beyond the ends of the scale", () => {
    check(`
#- lens.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, coc: 0.03 mm }
lenses:
  pulled:
    focal: 24 mm
    iris: 8
    pupil: 50 mm
    motors: { focus: { limits: { speed: 360 }, scale: [[1.8 m, 0 deg], [1 m, 60 deg]] } }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: lens.camera.yaml, lens: pulled }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
    focus: 1.5 m
  - at: 2 s
    focus: lid
#          ^^^ warning focus-speed: The focus motor's scale ends at 1.8 m, and is left at 00:00:02:00 (frame 50): focus goes from a set distance to lid, at 2.004 m here; beyond the end its angle is a guess: give \`scale\` a row there.
`);
  });

  it("says nothing of a motor whose limits or scale are not known", () => {
    check(`
#- lens.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, coc: 0.03 mm }
lenses:
  pulled: { focal: 24 mm, pupil: 50 mm, motors: { focus: { scale: [[3 m, 0 deg], [1 m, 60 deg]] } } }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: lens.camera.yaml, lens: pulled }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
    focus: lid
  - at: 0.1 s
    focus: near
#          ^^^^ warning soft-subject: lid is out of focus at 00:00:00:03 (frame 3): 1.91 m in front of the entrance pupil it is 1.4679 m beyond the far end of the depth of field, 0.4421 m, and a point of it is 9.87 times the circle of confusion wide (f/4, focused at 0.5009 m from the sensor); focus on lid.
`);
  });
});
