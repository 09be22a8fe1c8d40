import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

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
tolerance: { crossing: 1 s }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { pan: 36 }
#                ^^ error axis-speed: pan turns at 33.8 deg/s at 00:00:01:00 (frame 25), 13 % above its limit of 30 deg/s; stretch the 2 s from key 1 to key 2 to about 2.25 s, or raise the limit.
`);
  });

  it("holds just inside: 1.875 x 31.9 deg in 2 s is 29.9 deg/s", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 %, crossing: 1 s }
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
  - at: 3.2 s
#       ^^^^^ error axis-speed: pan turns at 53.7 deg/s at 00:00:01:15 (frame 40), 79 % above its limit of 30 deg/s; stretch the 3.2 s from left to right to about 5.73 s, or raise the limit.
    name: right
    axes: { slide: 0.4 }
#                  ^^^ information near-limit: slide uses 94 % of its speed limit at 00:00:01:15 (frame 40): 0.469 m/s of 0.5 m/s.
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
tolerance: { near-limit: 100 %, crossing: 1 s }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 1 s
    axes: { tilt: 12 }
#                 ^^ error axis-accel: tilt accelerates at 69.3 deg/s2 at 00:00:00:05 (frame 5), 15 % above its limit of 60 deg/s2; stretch the 1 s from key 1 to key 2 to about 1.08 s, or raise the limit.
#                 ^^ error axis-accel: tilt accelerates at 69.3 deg/s2 at 00:00:00:20 (frame 20), 15 % above its limit of 60 deg/s2; stretch the 1 s from key 1 to key 2 to about 1.08 s, or raise the limit.
#                 ^^ error axis-jerk: tilt jerks at 720 deg/s3 at 00:00:00:00 (frame 0), 80 % above its limit of 400 deg/s3; stretch the 1 s from key 1 to key 2 to about 1.22 s, or raise the limit.
#                 ^^ error axis-jerk: tilt jerks at 720 deg/s3 at 00:00:01:00 (frame 25), 80 % above its limit of 400 deg/s3; stretch the 1 s from key 1 to key 2 to about 1.22 s, or raise the limit.
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
#                  ^^^^ error axis-jerk: slide jerks at 9.6 m/s3 at 00:00:00:00 (frame 0), 20 % above its limit of 8 m/s3; stretch the 0.5 s from key 1 to key 2 to about 0.532 s, or raise the limit.
#                  ^^^^ error axis-jerk: slide jerks at 9.6 m/s3 at 00:00:00:13 (frame 13), 20 % above its limit of 8 m/s3; stretch the 0.5 s from key 1 to key 2 to about 0.532 s, or raise the limit.
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
#                 ^^ error axis-speed: level turns at 16.9 deg/s at 00:00:01:00 (frame 25), 13 % above its limit of 15 deg/s; stretch the 2 s from key 1 to key 2 to about 2.25 s, or raise the limit.
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
#                  ^^ error axis-range: plate reaches 91 deg at 00:00:04:00 (frame 100), 1 deg beyond the high end of its range, 90 deg; key it within -90 deg to 90 deg.
#                  ^^ error axis-speed: plate turns at 42.7 deg/s at 00:00:02:00 (frame 50), 6.6 % above its limit of 40 deg/s; stretch the 4 s from key 1 to key 2 to about 4.27 s, or raise the limit.
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
tolerance: { crossing: 1 s }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { pan: 30 }
#                ^^ information near-limit: pan uses 94 % of its speed limit at 00:00:01:00 (frame 25): 28.1 deg/s of 30 deg/s.
`);
  });

  it("is silent below the share that the move states", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 95 %, crossing: 1 s }
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
#                  ^^^^ error axis-range: slide reaches 1.05 m at 00:00:08:00 (frame 200), 50 mm beyond the high end of its range, 1 m; key it within -1 m to 1 m.
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
#                 ^^ error axis-range: level reaches -45 deg at 00:00:20:00 (frame 500), 5 deg beyond the low end of its range, -40 deg; it follows lift: keep that where level stays within -40 deg to 40 deg.
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
#       ^^^ error axis-range: pan reaches 180 deg at 00:00:08:00 (frame 200), 80 deg beyond the high end of its range, 100 deg; change the camera's place or the framing at key 2, or move the base.
    axes: { slide: 0.2 }
#- table.set.yaml
set: 1
targets:
  behind: { at: [-2, 0.2, 1.1] }
`);
  });
});

describe("axis-range of a set-up axis", () => {
  it("is found where the set-up states it, in no key", () => {
    check(`
#- m.move.yaml
move: 1
rig: column.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
setup: { column: 2 }
#                ^ error axis-range: column reaches 2 m, 0.4 m beyond the high end of its range, 1.6 m; set it within 0.7 m to 1.6 m.
keys:
  - at: 0 s
    axes: { pan: 0, tilt: 0 }
  - at: 4 s
    axes: { pan: 10 }
#- column.rig.yaml
rig: 1
chain:
  - { axis: column, type: linear, range: [0.7, 1.6], drive: setup }
  - { axis: pan, type: rotary, along: [0, 0, 1] }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
`);
  });
});

describe("axis-unset", () => {
  it("is found for a driven axis that no key gives and nothing solves", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
#       ^^^ error axis-unset: Nothing moves slide: no key gives it a value and no aim or camera key solves it; give it a value in key 1.
    aim: lid
  - at: 4 s
    aim: { framing: [0.4, 0.5] }
`);
  });
});
