import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("findings of keys", () => {
  it("key-order: times that go back, the rest is still read", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
  - at: 3 s
#       ^^^ error key-order: The key at 3 s does not come after \`key 2\` at 4 s: keys stand in order of time.
    axes: { slide: 0 }
  - at: 6 s
    axes: { slide: 0 }
`);
  });

  it("key-order: equal times", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
  - at: 100 f
#       ^^^^^ error key-order: The key at 4 s does not come after \`key 2\` at 4 s: keys stand in order of time.
    axes: { slide: 0 }
`);
  });

  it("key-order: a first key that is not at 0", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 1 s
#       ^^^ error key-order: The first key is at 1 s, but a move begins with its first key: let it be at 0 s, set \`start:\` to its label, or add a key at 0 s to hold.
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("labels count from `start`", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
start: "01:00:00:00"
keys:
  - at: "01:00:00:00"
    axes: { slide: 0 }
    aim: { at: lid }
  - at: "01:00:04:00"
    axes: { slide: 0.2 }
`);
  });

  it("key-order: a label without `start`", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: "01:00:00:00"
#       ^^^^^^^^^^^^^ error key-order: The first key is at 3600 s, but a move begins with its first key: let it be at 0 s, set \`start:\` to its label, or add a key at 0 s to hold.
    axes: { slide: 0 }
    aim: { at: lid }
  - at: "01:00:04:00"
    axes: { slide: 0.2 }
`);
  });

  it("missing-field: a key without a time", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
  - axes: { slide: 0 }
#   ^^^^ error missing-field: This key has no time: give \`at\`, or \`after\` counted from the key before.
`);
  });

  it("bad-number: `;` at a rate that drops nothing, with a cure", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: "00:00:04;00"
#       ^^^^^^^^^^^^^ error bad-number: \`at\`: \`00:00:04;00\`: 25 is not a drop rate, \`:\` stands before the frames: \`00:00:04:00\`.
    axes: { slide: 0.2 }
  - at: 8 s
    axes: { slide: 0 }
`);
  });

  it("bad-number: `:` at a drop rate, and a label that is dropped", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 29.97df
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: "00:00:04:00"
#       ^^^^^^^^^^^^^ error bad-number: \`at\`: \`00:00:04:00\`: 29.97df is a drop rate, \`;\` stands before the frames: \`00:00:04;00\`.
    axes: { slide: 0.2 }
  - at: "00:01:00;01"
#       ^^^^^^^^^^^^^ error bad-number: \`at\`: \`00:01:00;01\` does not exist: it is dropped at 29.97df; next is \`00:01:00;02\`.
    axes: { slide: 0 }
  - at: 70 s
    axes: { slide: 0.1 }
`);
  });

  it("wrong-unit: a length for a time", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 m
#       ^^^ error wrong-unit: \`at\`: \`4 m\` is a length; a time (s, ms, min or h) is expected, or frames (\`60 f\`), or a timecode label.
    axes: { slide: 0.2 }
  - at: 8 s
    axes: { slide: 0 }
`);
  });

  it("over-determined: `at` and `after`", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    after: 4 s
#          ^^^ error over-determined: A key has \`at\` or \`after\`, not both: delete one.
    axes: { slide: 0.2 }
`);
  });

  it("duplicate-name: two keys, two passes", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
passes: [{ name: a }, { name: a }]
#                             ^ error duplicate-name: Two passes are called \`a\`: rename one.
keys:
  - at: 0 s
    name: top
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    name: top
#         ^^^ error duplicate-name: Two keys are called \`top\`: rename one.
    axes: { slide: 0.2 }
`);
  });

  it("over-determined: an aim together with a keyed pan", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2, pan: 3 }
#                       ^^^ error over-determined: \`pan\` has no value of its own here: the aim solves it. Delete it, or end the aim at an earlier key with \`aim: none\`.
`);
  });

  it("a pan that is keyed after the aim has ended", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
    aim: none
  - at: 8 s
    axes: { slide: 0.2, pan: 3, tilt: -2 }
`);
  });

  it("over-determined: a roll without a roll axis", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
    roll: 3 deg
#         ^^^^^ error over-determined: This rig's head has no roll axis, so the roll is free: delete \`roll\`.
`);
  });

  it("over-determined: a driven axis beside `camera`", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
#           ^^^^^ error over-determined: \`slide\` has no value of its own here: \`camera\` solves all driven axes. Delete one of the two.
    aim: { at: lid }
    camera: { at: [0.09, 0, 1.2] }
#           ^^^^^^^^^^^^^^^^^^^^^^ error out-of-reach: The place that key 1 asks for is 5.1 mm out of the rig's reach; the nearest place it gets to is [0.092, 0.000, 1.195]; no axis is at an end of its range: the arm is at full stretch, or the rig has no axis that way.
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("missing-field: a camera without an aim, and half an offset", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    camera: { at: [0, 0, 1.2] }
#             ^^ error missing-field: A key with \`camera\` needs an aim, or the axes that turn the camera are not determined: give \`aim\`.
  - at: 4 s
    aim: lid
    camera: { from: lid }
#             ^^^^ error missing-field: \`camera\` needs \`at\`, or \`from\` together with \`offset\`.
`);
  });

  it("missing-field: a framing of nothing", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
    aim: { framing: [0.4, 0.5] }
#        ^^^^^^^^^^^^^^^^^^^^^^^ error missing-field: \`framing\` without \`at\` holds for the target aimed at before, but nothing is aimed at: give \`at\`.
`);
  });

  it("bad-number: an iris wider than the lens, a zoom that it has not", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
    iris: 1.4
#         ^^^ error bad-number: \`iris\` 1.4 is wider than \`wide\` opens: 2.8 at most.
    zoom: 35 mm
#         ^^^^^ error bad-number: \`zoom\` cannot be 35 mm: \`wide\` has 24 mm only.
`);
  });

  it("expectations name what is there, in its units", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
expect:
  - { of: pann.speed, below: 25 deg/s }
#         ^^^^ error unknown-axis: There is no axis \`pann\`. Did you mean \`pan\`?
  - { of: lid.framing.across, between: [0.4, 0.2] }
#                                      ^^^^^^^^^^ error bad-number: \`between\` is [lowest, highest]: its first value must be less than its second.
  - { of: lid.distance, above: 3 s }
#                              ^^^ error wrong-unit: \`above\`: \`3 s\` is a time; a length (m, cm, mm, in or ft) is expected.
  - { of: pan.sped, below: 1 }
#         ^^^^^^^^ error wrong-type: \`pan.sped\` is no quantity of the motion. Did you mean \`pan.speed\`?
  - { of: duration }
#     ^^ error missing-field: An expectation gives \`below\`, \`above\` or \`between\`.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });
});
