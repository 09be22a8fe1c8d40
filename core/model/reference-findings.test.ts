import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("findings of files and names", () => {
  it("missing-file: a rig that is not there", () => {
    check(`
#- m.move.yaml
move: 1
rig: gone.rig.yaml
#    ^^^^^^^^^^^^^ error missing-file: \`gone.rig.yaml\` names no file: there is no \`gone.rig.yaml\`. Paths are relative to this document.
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("missing-file: a camera and a set that are not there", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: ../gone.camera.yaml, lens: wide }
#              ^^^^^^^^^^^^^^^^^^^ error missing-file: \`../gone.camera.yaml\` names no file: there is no \`../gone.camera.yaml\`. Paths are relative to this document.
set: gone.set.yaml
#    ^^^^^^^^^^^^^ error missing-file: \`gone.set.yaml\` names no file: there is no \`gone.set.yaml\`. Paths are relative to this document.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("wrong-kind: a camera for a rig", () => {
    check(`
#- m.move.yaml
move: 1
rig: a.camera.yaml
#    ^^^^^^^^^^^^^ error wrong-kind: \`a.camera.yaml\` is a camera by its name; a rig is expected: \`NAME.rig.yaml\`.
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("wrong-kind: a name that says no kind", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.yaml
#    ^^^^^^^^^^^ error wrong-kind: \`slider.yaml\` is no rig by its name; a rig is expected: \`NAME.rig.yaml\`.
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("file-cycle: a move that names itself", () => {
    check(`
#- m.move.yaml
move: 1
rig: m.move.yaml
#    ^^^^^^^^^^^ error file-cycle: \`m.move.yaml\` is this document itself: name another file.
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("a broken rig gives one finding at its reference, and its own in its own file", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [1, -1] }
#                                                         ^^^^^^^ error bad-number: \`range\` is [lowest, highest]: its first value must be less than its second.
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, 0, 0] }
#                                      ^^^^^^^^^ error bad-number: \`along\` is a direction and cannot be [0, 0, 0].
head: { pan: pan, tilt: tilt }
#- m.move.yaml
move: 1
rig: r.rig.yaml
#    ^^^^^^^^^^ error missing-file: \`r.rig.yaml\` has 2 errors of its own, so what it says is not complete. The first: \`along\` is a direction and cannot be [0, 0, 0].
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("a set with a broken target gives one finding at its reference", () => {
    check(`
#- s.set.yaml
set: 1
targets: { lid: { at: [1, 2] }, spout: { at: [1, 2, 3] } }
#                     ^^^^^^ error wrong-type: \`at\` has 2 numbers; a list [x, y, z] is expected.
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: s.set.yaml
#    ^^^^^^^^^^ error missing-file: \`s.set.yaml\` has an error of its own, so what it says is not complete. The first: \`at\` has 2 numbers; a list [x, y, z] is expected.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("unknown-lens", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide-24 }
#                                   ^^^^^^^ error unknown-lens: The camera has no lens \`wide-24\`. Did you mean \`wide\`?
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("unknown-target: in aim, focus, camera and a pass", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
passes: [{ name: tall, targets: { lidd: { shift: [0, 0, 1 cm] } } }]
#                                 ^^^^ error unknown-target: There is no target \`lidd\`. Did you mean \`lid\`?
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: led }
#              ^^^ error unknown-target: There is no target \`led\`. Did you mean \`lid\`?
    focus: lidd
#          ^^^^ error unknown-target: There is no target \`lidd\`. Did you mean \`lid\`?
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("unknown-axis: in a key, with the nearest name", () => {
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
    axes: { slid: 0.2 }
#           ^^^^ error unknown-axis: There is no axis \`slid\`. Did you mean \`slide\`?
`);
  });

  it("unknown-axis: a turntable that is not there", () => {
    check(`
#- s.set.yaml
set: 1
targets: { lid: { at: [0, 0, 1], on: plat } }
#                                    ^^^^ error unknown-axis: There is no turntable \`plat\`. Did you mean \`plate\`?
turntables: { plate: { at: [0, 0, 1] } }
`);
  });

  it("unknown-mark: the base on a mark", () => {
    check(`
#- s.set.yaml
set: 1
targets: { lid: { at: [2, 0, 1] } }
marks: { a: { at: [0, 0, 0] } }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: s.set.yaml
place: { at: b }
#            ^ error unknown-mark: There is no mark \`b\`. Known: \`a\`.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("not-computed: a target that only sights locate", () => {
    check(`
#- s.set.yaml
set: 1
targets:
  lid:
# ^^^ warning not-computed: \`lid\` is known by its sights only, and locating it from them is not computed yet: give \`at\`.
    sights:
      - { rig: slider.rig.yaml, camera: { use: a.camera.yaml, lens: wide }, place: { at: [0, 0] }, axes: { slide: 0, pan: 3, tilt: 1 } }
      - { rig: slider.rig.yaml, camera: { use: a.camera.yaml, lens: long }, place: { at: [1, 0] }, axes: { slyde: 0, pan: 3 s, tilt: 1 } }
#                                                                                                          ^^^^^ error unknown-axis: There is no axis \`slyde\`. Did you mean \`slide\`?
#                                                                                                                         ^^^ error wrong-unit: \`pan\`: \`3 s\` is a time; an angle (deg or rad) is expected.
`);
  });

  it("a shoot: its moves, passes and keys", () => {
    check(`
#- d.shoot.yaml
shoot: 1
shots:
  - { move: m.move.yaml, passes: [celadon, tenmoko], setup-time: 20 min, pass-time: 4 min }
#                                          ^^^^^^^ error wrong-type: The move has no pass \`tenmoko\`. Did you mean \`tenmoku\`?
  - { move: gone.move.yaml }
#           ^^^^^^^^^^^^^^ error missing-file: \`gone.move.yaml\` names no file: there is no \`gone.move.yaml\`. Paths are relative to this document.
match:
  - { from: "m.move.yaml#top", to: "m.move.yaml#tip", about: lid }
#                                               ^^^ error wrong-type: The move has no key \`tip\`. Did you mean \`top\`?
  - { from: "m.move.yaml", to: "m.move.yaml#top", about: lid }
#           ^^^^^^^^^^^^^ error wrong-type: \`m.move.yaml\` names no key: write the move's file, \`#\`, and the key's name.
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
passes: [{ name: celadon }, { name: tenmoku }]
keys:
  - at: 0 s
    name: top
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });
});
