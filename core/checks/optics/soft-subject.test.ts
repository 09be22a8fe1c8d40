import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

// `wide` is 24 mm at f/2.8 with 0.03 mm: its hyperfocal distance is 6.881 m. Set to 1.5 m from the sensor, the depth of
// field ends 1.761 m in front of the entrance pupil; set to 1.6 m it ends 1.921 m. The lid is 1.91 m in front.

describe("soft-subject", () => {
  it("finds a subject that is farther than the depth of field", () => {
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
    focus: 1.5 m
#          ^^^^^ warning soft-subject: lid is out of focus at 00:00:00:00 (frame 0): 1.91 m in front of the entrance pupil it is 0.1491 m beyond the far end of the depth of field, 1.7609 m, and a point of it is 1.31 times the circle of confusion wide (f/2.8, focused at 1.5 m from the sensor); close the iris to f/4 or more, or focus on lid.
  - at: 4 s
`);
  });

  it("is content just inside it", () => {
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
    focus: 1.6 m
  - at: 4 s
`);
  });

  it("finds a subject that is nearer, and one that another iris would do for is said so", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: long }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
    focus: 2.2 m
#          ^^^^^ warning soft-subject: lid is out of focus at 00:00:00:00 (frame 0): 1.9 m in front of the entrance pupil it is 0.1283 m nearer than the near end of the depth of field, 2.0283 m, and a point of it is 3.09 times the circle of confusion wide (f/4, focused at 2.2 m from the sensor); close the iris to f/13 or more, or focus on lid.
    iris: 4
  - at: 4 s
`);
  });

  it("finds an aim that goes over without the focus, at the key that aims anew", () => {
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
    focus: lid
  - at: 4 s
#       ^^^ warning soft-subject: near is out of focus at 00:00:04:00 (frame 100): 0.41 m in front of the entrance pupil it is 1.088 m nearer than the near end of the depth of field, 1.498 m, and a point of it is 13.3 times the circle of confusion wide (f/2.8, focused at 2.004 m from the sensor); focus on near.
    aim: near
  - at: 5 s
`);
  });

  it("says nothing while sight or focus go over, nor of a subject that focus is on", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: long }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
    focus: lid
  - at: 2 s
    aim: lid
    focus: lid
  - at: 10 s
    aim: spout
    focus: spout
  - at: 12 s
    axes: { slide: 0.1 }
`);
  });

  it("counts distances that are keyed one after the other: they are to follow the subject", () => {
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
    focus: 2 m
  - at: 2 s
    focus: 1 m
#          ^^^ warning soft-subject: lid is out of focus at 00:00:02:00 (frame 50): 1.91 m in front of the entrance pupil it is 0.8703 m beyond the far end of the depth of field, 1.0397 m, and a point of it is 4.09 times the circle of confusion wide (f/2.8, focused at 1 m from the sensor); close the iris to f/13 or more, or focus on lid.
  - at: 4 s
    focus: 2 m
`);
  });

  it("says nothing without a focus, and nothing without an aim", () => {
    check(`
#- unfocused.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: long }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
  - at: 4 s
#- unaimed.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: long }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
    focus: 1 m
  - at: 4 s
`);
  });
});
