import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("out-of-frame", () => {
  it("is found when the framing leaves the captured picture", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    aim: { framing: [1.1, 0.5] }
#                   ^^^^^^^^^^ error out-of-frame: lid is 614.4 px outside the right edge of the captured picture at 00:00:08:00 (frame 200), at framing [1.100, 0.500]; change the framing at key 2, or allow it if it is meant.
`);
  });

  it("is found when the framing leaves the delivered crop only", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
deliver: [3840, 2160]
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    aim: { at: lid, framing: [0.5, 0.15] }
#                            ^^^^^^^^^^^ error out-of-frame: lid is 129.6 px outside the top edge of the delivered crop at 00:00:08:00 (frame 200), at framing [0.500, 0.150]; change the framing at key 2, or allow it if it is meant.
`);
  });

  it("holds at the edge of the delivered crop: 2160 of 3456 px begin at 0.1875", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
deliver: [3840, 2160]
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    aim: { at: lid, framing: [0.5, 0.1875] }
`);
  });
});

describe("focus-near", () => {
  it("says of a target behind the camera that nothing focuses there", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: behind.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
    focus: kiln
#          ^^^^ error focus-near: kiln is behind the sensor plane at 00:00:00:00 (frame 0): no lens focuses there; turn the camera towards it, or focus on something else.
#- behind.set.yaml
set: 1
targets: { kiln: { at: [-1, 0, 1.2] } }
`);
  });

  it("is found when a target comes nearer than close focus", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: long }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0.1 }
    aim: near
    focus: near
#          ^^^^ error focus-near: Focus on near is 0.5139 m from the sensor plane at 00:00:00:00 (frame 0), 0.3361 m nearer than long can focus (0.85 m); move the camera back or take another lens.
  - at: 20 s
    axes: { slide: 0.15 }
`);
  });

  it("is found for a keyed distance between its keys", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
    focus: 1 m
  - at: 4 s
    focus: 0.25 m
#          ^^^^^^ error focus-near: Focus is 0.25 m from the sensor plane at 00:00:04:00 (frame 100), 50 mm nearer than wide can focus (0.3 m); move the camera back or take another lens.
`);
  });

  it("holds at close focus itself", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
    focus: 1 m
  - at: 4 s
    focus: 0.3 m
`);
  });
});

describe("out-of-reach", () => {
  it("is found for a camera key, with the nearest place and what stops it", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 % }
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
  - at: 20 s
    name: outside
    camera: { at: [0.09, 1.4, 1.2] }
#           ^^^^^^^^^^^^^^^^^^^^^^^^ error out-of-reach: The place that outside asks for is 0.4413 m out of the rig's reach; the nearest place it gets to is [0.082, 0.959, 1.196]; stopped by slide.
    aim: lid
`);
  });
});

describe("aim-spin", () => {
  it("explains a pan that runs away when the view passes near the pan axis", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { near-limit: 100 % }
keys:
  - at: 0 s
    axes: { slide: -0.5 }
    aim: below
  - at: 8 s
#       ^^^ error axis-speed: pan turns at 111.9 deg/s at 00:00:04:00 (frame 100), 3.7 times its limit of 30 deg/s; stretch the 8 s from key 1 to key 2 to about 29.85 s, or raise the limit.
#       ^^^ error axis-accel: pan accelerates at 145.1 deg/s2 at 00:00:03:18 (frame 93), 2.4 times its limit of 60 deg/s2; stretch the 8 s from key 1 to key 2 to about 12.44 s, or raise the limit.
#       ^^^ error axis-accel: pan accelerates at 145.1 deg/s2 at 00:00:04:07 (frame 107), 2.4 times its limit of 60 deg/s2; stretch the 8 s from key 1 to key 2 to about 12.44 s, or raise the limit.
#       ^^^ error axis-jerk: pan jerks at 881.8 deg/s3 at 00:00:04:00 (frame 100), 2.2 times its limit of 400 deg/s3; stretch the 8 s from key 1 to key 2 to about 10.42 s, or raise the limit.
#       ^^^ warning aim-spin: pan turns at 111.9 deg/s (limit 30 deg/s) at 00:00:04:00 (frame 100) because the view passes 3.81 deg from the pan axis; lead the view past at 14.34 deg or more, hold pan at 68.89 deg over the crossing with \`aim: none\`, or let roll do the turn.
    axes: { slide: 0.5 }
#- table.set.yaml
set: 1
targets:
  below: { at: [0.12, 0, 0.1] }
`);
  });
});

describe("allow", () => {
  it("keeps a finding with its reason, in YAML by a comment", () => {
    checkFindings(
      `
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
    # allow axis-speed: rehearsed at full speed
    axes: { pan: 36 }
#                ^^ allowed axis-speed: pan turns at 33.8 deg/s at 00:00:01:00 (frame 25), 13 % above its limit of 30 deg/s; stretch the 2 s from key 1 to key 2 to about 2.25 s, or raise the limit.
`,
      { beside: KIT, json: false },
    );
  });

  it("keeps a finding with its reason, by a field of the key", () => {
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
#                ^^ allowed axis-speed: pan turns at 33.8 deg/s at 00:00:01:00 (frame 25), 13 % above its limit of 30 deg/s; stretch the 2 s from key 1 to key 2 to about 2.25 s, or raise the limit.
    allow: [{ code: axis-speed, reason: rehearsed at full speed }]
`);
  });

  it("does not count without a reason or without effect", () => {
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
    allow: [{ code: axis-speed }]
#           ^^^^^^^^^^^^^^^^^^^^ warning allow: An allow needs its reason, or nobody knows later why axis-speed was meant; it does not count.
allow: [{ code: axis-range, reason: the stops are off }]
#       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ warning allow: Nothing here gives the finding axis-range, so this allows nothing; remove it.
`);
  });
});

describe("aim-error", () => {
  it("is found while a head with an oblique tilt axis cannot look up to the target", () => {
    check(`
#- m.move.yaml
move: 1
rig: oblique.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -3 }
    aim: high
  - at: 20 s
#       ^^^^ error aim-error: high is 290.5 px from its framing at 00:00:20:00 (frame 500); the tolerance is 4 px; the head cannot turn there: change the framing or the camera's place at key 2.
    axes: { slide: -2 }
#- oblique.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [1, 0, 0], origin: { at: [0, 0, 1] }, range: [-4, 0] }
  - { axis: pan, type: rotary, along: [0, 0, 1] }
  - { axis: tilt, type: rotary, along: [1, -1, 0] }
head: { pan: pan, tilt: tilt }
#- table.set.yaml
set: 1
targets:
  high: { at: [0, 0, 3.3] }
`);
  });
});

describe("aim-spin over the pole", () => {
  it("is an error where the view passes straight along the pan axis", () => {
    check(`
#- m.move.yaml
move: 1
rig: top.rig.yaml
camera: { use: top.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.5 }
    aim: below
  - at: 8 s
#       ^^^ error axis-speed: pan would have to jump at 00:00:04:00 (frame 100), which no limit allows (here 60 deg/s); more time does not help: lead the view past the pan axis, or the camera past the target, at a distance.
#       ^^^ error aim-spin: pan would have to turn at an unbounded speed at 00:00:04:00 (frame 100) because the view passes 0 deg from the pan axis; lead the view past at 15 deg or more, hold pan at 90 deg over the crossing with \`aim: none\`, or let roll do the turn.
    axes: { slide: 0.5 }
#- top.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], origin: { at: [0, 0, 2] }, range: [-1, 1] }
  - { axis: pan, type: rotary, along: [0, 0, 1], limits: { speed: 60 } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-100, 60] }
head: { pan: pan, tilt: tilt }
#- top.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  wide: { focal: 24 mm, iris: 2.8, close-focus: 0.3 m, pupil: 0 mm }
#- table.set.yaml
set: 1
targets:
  below: { at: [0, 0, 0.1] }
`);
  });

  it("says nothing of a still top-down shot", () => {
    check(`
#- m.move.yaml
move: 1
rig: top.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { rise: 1 }
    aim: below
  - at: 8 s
    axes: { rise: 1.5 }
#- top.rig.yaml
rig: 1
chain:
  - { axis: rise, type: linear, along: [0, 0, 1], origin: { at: [0, 0, 1] }, range: [0, 2] }
  - { axis: pan, type: rotary, along: [0, 0, 1], limits: { speed: 60 } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-100, 60] }
head: { pan: pan, tilt: tilt }
#- table.set.yaml
set: 1
targets:
  below: { at: [0, 0, 0.1] }
`);
  });
});
