import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("findings of the set-up of a move", () => {
  it("missing-field, unknown-axis, bad-number: columns and booms", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: column, type: linear, range: [0.7, 1.6], drive: setup }
  - { axis: boom, type: linear, along: [1, 0, 0], drive: setup, positions: [0.9, 1.2, 1.5] }
  - { axis: pan, type: rotary }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
#- m.move.yaml
move: 1
rig: r.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
setup: { boom: 1.3, pan: 3, colum: 1 }
#              ^^^ error bad-number: \`boom\` cannot be \`1.3\`: it can be set to \`0.9 m\`, \`1.2 m\` or \`1.5 m\`.
#                   ^^^ error over-determined: \`pan\` is driven in the take, so it has no value in \`setup\`: give it in the keys. Set before a take: \`column\` and \`boom\`.
#                           ^^^^^ error unknown-axis: There is no axis \`colum\`. Did you mean \`column\`?
near: { pann: 20 }
#       ^^^^ error unknown-axis: There is no axis \`pann\`. Did you mean \`pan\`?
keys:
  - at: 0 s
    aim: lid
  - at: 2 s
    axes: { column: 1 }
#           ^^^^^^ error over-determined: \`column\` has no value of its own here: it is set before the take. Give it in \`setup\`.
`);
  });

  it("missing-field: no set-up at all", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: column, type: linear, range: [0.7, 1.6], drive: setup }
  - { axis: pan, type: rotary }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
#- m.move.yaml
move: 1
rig: r.rig.yaml
#<^ error missing-field: \`setup\` lacks \`column\`, an axis that is set before the take; 0.7 m is assumed.
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    aim: lid
  - at: 2 s
    focus: lid
`);
  });

  it("duplicate-name: a turntable that is called like an axis", () => {
    check(`
#- s.set.yaml
set: 1
targets: { lid: { at: [2, 0, 1] } }
turntables: { pan: { at: [2, 0, 0.9] } }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: s.set.yaml
#    ^^^^^^^^^^ error duplicate-name: \`pan\` is an axis of the rig and a turntable of the set: a move cannot tell them apart. Rename one.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });
});
