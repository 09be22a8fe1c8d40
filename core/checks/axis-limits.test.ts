import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

/**
 * A segment at rest at both ends is s = 10 t^3 - 15 t^4 + 6 t^5 (Flash & Hogan 1985): over a distance d in T seconds its
 * peaks are 1.875 d/T, 5.7735 d/T^2 and 60 d/T^3.
 */
describe("axis-speed", () => {
  it("is found on a keyed axis: 1.875 x 36 deg in 2 s is 33.75 deg/s", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { pan: 36 }
`);
  });

  it("holds just inside: 1.875 x 31.9 deg in 2 s is 29.9 deg/s", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 % }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { pan: 31.9 }
`);
  });

  it("is found on a solved axis that is too fast only between two keys", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    name: left
    axes: { slide: -0.4 }
    aim: near
    focus: lid
  - at: 3.2 s
    name: right
    axes: { slide: 0.4 }
`);
  });
});

describe("axis-accel", () => {
  it("is found: 5.7735 x 12 deg in 1 s is 69.3 deg/s2", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 % }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 1 s
    axes: { tilt: 12 }
`);
  });
});

describe("axis-jerk", () => {
  it("is found: 60 x 0.02 m in 0.5 s is 9.6 m/s3", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 % }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 0.5 s
    axes: { slide: 0.02 }
`);
  });

  it("holds just inside: 60 x 0.0166 m in 0.5 s is 7.97 m/s3", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 % }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 0.5 s
    axes: { slide: 0.0166 }
`);
  });
});

describe("limits of followers and turntables", () => {
  it("are found on a follower by its own limit", () => {
    check(`
#- m.move.yaml
move: 1
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 % }
keys:
  - at: 0 s
    axes: { swing: 0, lift: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { lift: 18 }
`);
  });

  it("are found on a turntable", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 % }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0, plate: 0 }
  - at: 4 s
    axes: { plate: 91 }
`);
  });
});

describe("near-limit", () => {
  it("tells the worst instant of what uses more than its share", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { pan: 30 }
`);
  });

  it("is silent below the share that the move states", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 95 % }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { pan: 30 }
`);
  });
});

describe("axis-range", () => {
  it("is found at the key whose value is outside", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 8 s
    name: far
    axes: { slide: 1.05 }
`);
  });

  it("holds at the very end of the range", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 8 s
    axes: { slide: 1 }
`);
  });

  it("is found on a follower while its leader is inside", () => {
    check(`
#- m.move.yaml
move: 1
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { swing: 0, lift: 0, pan: 0, tilt: 0 }
  - at: 20 s
    axes: { lift: 45 }
`);
  });

  it("is found on a solved axis", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: behind
  - at: 8 s
    axes: { slide: 0.2 }
#- table.set.yaml
set: 1
targets:
  behind: { at: [-2, 0.2, 1.1] }
`);
  });
});
