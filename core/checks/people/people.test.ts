import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("people near a rig", () => {
  it("are found where the rig comes nearer than the clearance", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 8 s
#       ^^^ error people: the camera is 30 mm from potter at 00:00:08:00 (frame 200), 20 mm nearer than the clearance of 50 mm; lead the move past at a distance, or have potter stand elsewhere. This is arithmetic on a plan, no assessment of safety: follow the rig's manual, local rules and the person responsible on set.
    name: far
    axes: { slide: 0.2 }
#- studio.set.yaml
set: 1
people:
  potter: { cylinder: { radius: 0.3, height: 1.75 }, at: [0, 0.53, 0.875] }
`);
  });

  it("just keep their clearance", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 8 s
    axes: { slide: 0.2 }
#- studio.set.yaml
set: 1
people:
  potter: { cylinder: { radius: 0.3, height: 1.75 }, at: [0, 0.551, 0.875] }
`);
  });

  it("are found inside of what the rig sweeps", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0.9, pan: 0, tilt: 0 }
  - at: 20 s
#       ^^^^ error people: the camera reaches 69.8 mm into potter at 00:00:10:04 (frame 254), 0.1198 m nearer than the clearance of 50 mm; lead the move past at a distance, or have potter stand elsewhere. This is arithmetic on a plan, no assessment of safety: follow the rig's manual, local rules and the person responsible on set.
    axes: { slide: -0.9 }
#- studio.set.yaml
set: 1
people:
  potter: { cylinder: { radius: 0.1, height: 1.75 }, at: [0, 0, 0.875] }
`);
  });
});

describe("people beside what stands", () => {
  it("are not found: they may work at a rail and a column that nothing drives", () => {
    check(`
#- m.move.yaml
move: 1
rig: railed.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
setup: { legs: 0.9 }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 8 s
    axes: { slide: 0.2 }
#- railed.rig.yaml
rig: 1
chain:
  - { axis: legs, type: linear, range: [0.6, 1.3], drive: setup }
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 0.15] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 0.1] } }
head: { pan: pan, tilt: tilt }
bodies:
  - { name: plate, on: base, box: [0.8, 0.8, 0.05], at: [0, 0, 0.1] }
  - { name: rail, on: legs, box: [0.1, 1.8, 0.04] }
  - { name: carriage, on: slide, box: [0.1, 0.1, 0.04], at: [0, 0, 0.06] }
#- studio.set.yaml
set: 1
people:
  potter: { cylinder: { radius: 0.3, height: 1.75 }, at: [0, 0.65, 0.875] }
`);
  });
});

describe("people beside a rig that stands", () => {
  it("are found in a move of one key", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
keys:
  - at: 0 s
#       ^^^ error people: the camera is 30 mm from potter at 00:00:00:00 (frame 0), 20 mm nearer than the clearance of 50 mm; lead the move past at a distance, or have potter stand elsewhere. This is arithmetic on a plan, no assessment of safety: follow the rig's manual, local rules and the person responsible on set.
    axes: { slide: 0, pan: 0, tilt: 0 }
#- studio.set.yaml
set: 1
people:
  potter: { cylinder: { radius: 0.3, height: 1.75 }, at: [0, 0.33, 0.875] }
`);
  });
});

describe("speed near people", () => {
  it("is found above 250 mm/s within an arm's reach", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.6, pan: 0, tilt: 0 }
  - at: 6 s
#       ^^^ warning people: A point of the camera moves at 0.375 m/s at 00:00:03:00 (frame 75), 0.51 m from potter, 50 % above the reduced speed of ISO 10218-1 (0.25 m/s within 0.85 m of people); slow the move down (\`speed: 66 %\` is enough), or have potter stand elsewhere. This is arithmetic on a plan, no assessment of safety: follow the rig's manual, local rules and the person responsible on set.
    axes: { slide: 0.6 }
#- studio.set.yaml
set: 1
people:
  potter: { cylinder: { radius: 0.3, height: 1.75 }, at: [0.9, 0, 0.875] }
  runner: { cylinder: { radius: 0.3, height: 1.75 }, at: [-2, 0, 0.875] }
`);
  });

  it("holds just below it, and farther away", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.6, pan: 0, tilt: 0 }
  - at: 9.1 s
    axes: { slide: 0.6 }
#- n.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
tolerance: { people: 0.5 m }
keys:
  - at: 0 s
    axes: { slide: -0.6, pan: 0, tilt: 0 }
  - at: 6 s
    axes: { slide: 0.6 }
#- studio.set.yaml
set: 1
people:
  potter: { cylinder: { radius: 0.3, height: 1.75 }, at: [0.9, 0, 0.875] }
`);
  });

  it("counts people who are nearer than the rig takes to stop", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
tolerance: { people: { stop: 0.335 s } }
keys:
  - at: 0 s
    axes: { slide: -0.6, pan: 0, tilt: 0 }
  - at: 6 s
#       ^^^ warning people: A point of the camera moves at 0.375 m/s at 00:00:03:00 (frame 75), 1.31 m from potter, 50 % above the reduced speed of ISO 10218-1 (0.25 m/s within 1.386 m of people); slow the move down (\`speed: 66 %\` is enough), or have potter stand elsewhere. This is arithmetic on a plan, no assessment of safety: follow the rig's manual, local rules and the person responsible on set.
    axes: { slide: 0.6 }
#- studio.set.yaml
set: 1
people:
  potter: { cylinder: { radius: 0.3, height: 1.75 }, at: [1.7, 0, 0.875] }
`);
  });
});
