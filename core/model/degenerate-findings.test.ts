import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("degenerate input has its finding", () => {
  it("keys at one time, and before their neighbour", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 1 s, axes: { slide: 0.1 } }
  - { at: 1 s, axes: { slide: 0.2 } }
#         ^^^ error key-order: The key at 1 s does not come after \`key 2\` at 1 s: keys stand in order of time.
`);
  });

  it("huge values", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 1e300 s, axes: { slide: 0.1 } }
#         ^^^^^^^ error bad-number: \`at\`: \`1e300 s\` is larger than anything of a rig: 1000000 s at most.
`);
  });

  it("a target at the entrance pupil", () => {
    check(`
#- s.set.yaml
set: 1
targets:
  eye: { at: [0.09, 0, 1.2] }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: s.set.yaml
rate: 25
keys:
  - { at: 0 s, camera: { from: eye, offset: [0, 0, 0] }, aim: { at: eye } }
#                      ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error out-of-reach: key 1 puts the entrance pupil on eye itself and aims at it, so there is no view; give the camera an offset from eye, or another aim.
`);
  });

  it("no driven axis, and head axes that are parallel", () => {
    check(`
#- none.rig.yaml
rig: 1
chain:
  - { axis: post, type: fixed, origin: { at: [0, 0, 1] } }
# ^ error degenerate-chain: No axis of this chain is driven in a take, so nothing can move.
#- none.move.yaml
move: 1
rig: none.rig.yaml
#    ^^^^^^^^^^^^^ error missing-file: \`none.rig.yaml\` has an error of its own, so what it says is not complete. The first: No axis of this chain is driven in a take, so nothing can move.
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
keys:
  - { at: 0 s, camera: { at: [0, 0, 1] }, aim: { at: lid } }
#- parallel.rig.yaml
rig: 1
chain:
  - { axis: pan, type: rotary, along: [0, 0, 1] }
  - { axis: tilt, type: rotary, along: [0, 0, 1] }
head: { pan: pan, tilt: tilt }
#     ^^^^^^^^^^^^^^^^^^^^^^^^ error degenerate-chain: \`head\`: pan and tilt turn about the same direction, so most targets are out of their reach.
#- parallel.move.yaml
move: 1
rig: parallel.rig.yaml
#    ^^^^^^^^^^^^^^^^^ error missing-file: \`parallel.rig.yaml\` has an error of its own, so what it says is not complete. The first: \`head\`: pan and tilt turn about the same direction, so most targets are out of their reach.
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
keys:
  - { at: 0 s, aim: { at: lid } }
`);
  });

  it("an arm without length", () => {
    check(`
#- stub.rig.yaml
rig: 1
chain:
  - { axis: swing, type: rotary, origin: { at: [0, 0, 1] }, range: [-170, 170] }
  - { axis: column, type: linear, range: [0, 1] }
  - { axis: pan, type: rotary, range: [-170, 170] }
#           ^^^ warning degenerate-chain: \`pan\` turns about the same line as \`swing\`: the arm between them has no length, so together they do what one does. Give \`pan\` the \`origin\` that it has on the rig.
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [0.1, 0, 0] }, range: [-90, 90] }
head: { pan: pan, tilt: tilt }
`);
  });

  it("an arm with length, however short, has none", () => {
    check(`
#- arm.rig.yaml
rig: 1
chain:
  - { axis: swing, type: rotary, origin: { at: [0, 0, 1] }, range: [-170, 170] }
  - { axis: pan, type: rotary, origin: { at: [0.001, 0, 0] }, range: [-170, 170] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-90, 90] }
head: { pan: pan, tilt: tilt }
`);
  });

  it("a range without length", () => {
    check(`
#- stub.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, range: [0.5, 0.5] }
#                                       ^^^^^^^^^^ error bad-number: \`range\` is [lowest, highest]: its first value must be less than its second.
  - { axis: pan, type: rotary, range: [-170, 170] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-90, 90] }
head: { pan: pan, tilt: tilt }
`);
  });

  it("a line without length", () => {
    check(`
#- m.move.yaml
move: 1
rig: telescope.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
keys:
  - { at: 0 s, camera: { from: lid, offset: [-0.4, 0.3, 0.1] }, aim: { at: lid } }
  - { at: 2 s, camera: { from: lid, offset: [-0.4, 0.3, 0.1] }, path: line }
#                                                                     ^^^^ warning bad-number: The way to key 2 has no length: the camera is there already, and stays; delete \`path\`, or move one of the two keys.
`);
  });
});
