import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

/** For texts that only YAML can be. */
const checkYaml = (fixture: string): void => checkFindings(fixture, { beside: KIT, json: false });

describe("findings of fields", () => {
  it("unknown-field: with the nearest name", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
stabilize: 5 %
#<^^^^^^^ error unknown-field: \`move\` has no field \`stabilize\`. Did you mean \`stabilise\`?
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("unknown-field: with what is known when none is near", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid, zzz: 1 }
#                   ^^^ error unknown-field: \`aim\` has no field \`zzz\`. Known: \`at\` and \`framing\`.
  - at: 8 s
    axes: { slide: 0 }
`);
  });

  it("unknown-field: other ways to write a name", () => {
    check(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  wide: { focal: 24 mm, pupil: 50 mm, closeFocus: 0.3 m }
#                                     ^^^^^^^^^^ error unknown-field: \`wide\` has no field \`closeFocus\`. Did you mean \`close-focus\`?
`);
  });

  it("missing-field: of the document", () => {
    check(`
#- m.move.yaml
move: 1
#<^^ error missing-field: \`move\` lacks \`camera\`, a map (\`use\`, \`lens\`). The camera and the lens.
rig: slider.rig.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
#              ^^^ error unknown-target: There is no target \`lid\`. There are none: name a \`set:\` that has them.
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("missing-field: the first line", () => {
    check(`
#- m.move.yaml
rig: slider.rig.yaml
#<^ error missing-field: A move begins with \`move: 1\`, the version of its language.
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

  it("missing-field: of a lens", () => {
    check(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  wide: { focal: 24 mm }
# ^^^^ error missing-field: \`wide\` lacks \`pupil\`, a length, or rows [focal, pupil] or { focal, focus, at }. How far the entrance pupil lies in front of the flange. Rows go by focal length, then by focus; between them it runs smoothly, never beyond them.
`);
  });

  it("missing-field: of a point of the set", () => {
    check(`
#- s.set.yaml
set: 1
targets: { lid: { on: plate } }
#          ^^^ error missing-field: \`lid\` has no place: give \`at\`, \`follow\` or \`sights\`.
turntables: { plate: { at: [0, 0, 1] } }
`);
  });

  it("missing-field: a body without a shape, and one with two", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
bodies:
  - { on: slide, at: [0, 0, 0] }
#     ^^ error missing-field: \`slide\` has no shape: give it one of \`box\`, \`cylinder\`, \`capsule\`, \`sphere\` or \`mesh\`.
  - { on: pan, sphere: { radius: 0.1 }, box: [1, 1, 1] }
#     ^^ error over-determined: \`pan\` has \`box\` and \`sphere\`: a body has one shape. Make two bodies of it.
`);
  });

  it("wrong-type: a list for a number, a number for a list", () => {
    check(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: 6144, flange: [44 mm] }
#                                              ^^^^ error wrong-type: \`resolution\` cannot be \`6144\`; a list [across, down] is expected.
#                                                    ^^^^^^ error wrong-type: \`flange\` cannot be a list; a length (m, cm, mm, in, ft) is expected.
lenses:
  wide: { focal: 24 mm, pupil: 50 mm }
`);
  });

  it("wrong-type: two numbers for a point", () => {
    check(`
#- s.set.yaml
set: 1
targets: { lid: { at: [1, 2] } }
#                     ^^^^^^ error wrong-type: \`at\` has 2 numbers; a list [x, y, z] is expected.
`);
  });

  it("wrong-type: a word that is none of the few", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotery, along: [0, -1, 0] }
#                       ^^^^^^ error wrong-type: \`type\` cannot be \`rotery\`; \`linear\`, \`rotary\` or \`fixed\` is expected.
head: { pan: pan, tilt: tilt }
`);
  });

  it("wrong-type: a decimal comma", () => {
    checkYaml(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  wide: { focal: 24 mm, pupil: "5,2 cm" }
#                              ^^^^^^^^ error wrong-type: \`pupil\`: \`5,2 cm\` has a comma; decimals take a point; a length (m, cm, mm, in or ft) is expected.
`);
  });

  it("wrong-type: a field without a value", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
title:
#<^^^ error wrong-type: \`title\` has no value; text is expected.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("wrong-type: a word where a number or `level` stands", () => {
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
    roll: lvel
#         ^^^^ error wrong-type: \`roll\` cannot be \`lvel\`; \`level\`, or an angle is expected.
`);
  });

  it("wrong-type: a name with a mark that names may not hold", () => {
    check(`
#- s.set.yaml
set: 1
targets: { "lid.top": { at: [0, 0, 0] } }
#          ^^^^^^^^^ error wrong-type: \`lid.top\` cannot be a name in \`targets\`: a name is not empty and holds none of the marks . , = # : { } [ ] and quotes.
`);
  });

  it("wrong-unit: a time for a length", () => {
    check(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 s }
#                                                                    ^^^^ error wrong-unit: \`flange\`: \`44 s\` is a time; a length (m, cm, mm, in or ft) is expected.
lenses:
  wide: { focal: 24 mm, pupil: 50 mm }
`);
  });

  it("wrong-unit: a unit that is not known", () => {
    check(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 furlongs }
#                                                                    ^^^^^^^^^^^ error wrong-unit: \`flange\`: \`44 furlongs\` has the unit \`furlongs\`, which is not known; a length (m, cm, mm, in or ft) is expected.
lenses:
  wide: { focal: 24 mm, pupil: 50 mm }
`);
  });

  it("wrong-unit: degrees on an axis that slides, in the rig and in the move", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1 deg, 1 m], limits: { speed: 3 deg/s } }
#                                                          ^^^^^^ error wrong-unit: \`range\`: \`-1 deg\` is an angle; a length (m, cm, mm, in or ft) is expected.
#                                                                                         ^^^^^^^ error wrong-unit: \`speed\`: \`3 deg/s\` is a speed of turning; a speed along a line (m/s, cm/s, mm/s, in/s or ft/s) is expected.
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
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
    axes: { slide: 12 deg }
#                  ^^^^^^ error wrong-unit: \`slide\`: \`12 deg\` is an angle; a length (m, cm, mm, in or ft) is expected.
`);
  });

  it("bad-number: not finite", () => {
    checkYaml(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: .inf }
#                                                                    ^^^^ error bad-number: \`flange\`: \`.inf\` is not a finite number.
lenses:
  wide: { focal: .nan, pupil: 50 mm }
#                ^^^^ error bad-number: \`focal\`: \`.nan\` is not a finite number.
`);
  });

  it("bad-number: too large for a number", () => {
    checkYaml(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 1e400 }
#                                                                    ^^^^^ error bad-number: \`flange\`: \`1e400\` is not a finite number.
lenses:
  wide: { focal: 24 mm, pupil: 50 mm }
`);
  });

  it("bad-number: negative where a size is meant", () => {
    check(`
#- c.camera.yaml
camera: 1
body: { sensor: [-36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
#                ^^^^^^ error bad-number: \`sensor\`: \`-36 mm\` is not taken: it must be more than 0.
lenses:
  wide: { focal: 0 mm, pupil: 50 mm }
#                ^^^^ error bad-number: \`focal\`: \`0 mm\` is not taken: it must be more than 0.
`);
  });

  it("bad-number: a direction of no length", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, 0, 0] }
#                                      ^^^^^^^^^ error bad-number: \`along\` is a direction and cannot be [0, 0, 0].
head: { pan: pan, tilt: tilt }
`);
  });

  it("bad-number: a range with its ends swapped", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [1, -1] }
#                                                         ^^^^^^^ error bad-number: \`range\` is [lowest, highest]: its first value must be less than its second.
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
`);
  });

  it("bad-number: a rate that is none", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 24.7
#     ^^^^ error bad-number: \`rate\`: \`24.7\` is not a frame rate: 23.976, 24, 25, 29.97, 29.97df, 30, 50, 59.94, 59.94df, 60 or another whole number.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("bad-number: another version of the language", () => {
    check(`
#- m.move.yaml
move: 2
#     ^ error bad-number: \`move: 2\`: only version 1 of the language is known.
rig: slider.rig.yaml
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

  it("bad-number: a crop larger than the picture", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
deliver: [7000, 3000]
#        ^^^^^^^^^^^^ error bad-number: \`deliver\` is a crop of 7000 x 3000 px, larger than the 6144 x 3456 px that are captured.
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid }
  - at: 4 s
    axes: { slide: 0.2 }
`);
  });

  it("sensor-aspect: sensor and pixels of unlike aspect", () => {
    check(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 24 mm], resolution: [6144, 3456], flange: 44 mm }
#                                           ^^^^^^^^^^^^ warning sensor-aspect: \`sensor\` is the area recorded as \`resolution\`, but their aspects differ by 15.63 % (1.5000 of the sensor, 1.7778 of the pixels): give the area that is recorded.
lenses:
  wide: { focal: 24 mm, pupil: 50 mm }
`);
  });

  it("sensor-aspect: half a per cent is let pass", () => {
    check(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.33 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  wide: { focal: 24 mm, pupil: 50 mm }
`);
  });

  it("bad-number: a distortion that folds the picture", () => {
    check(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  wide: { focal: 24 mm, pupil: 50 mm, distortion: { k: [-1] } }
#                                                 ^^^^^^^^^^^ error bad-number: The distortion of \`wide\` turns back inside the picture, so that two points of the set fall on one pixel: check the signs and the order of k and p.
`);
  });
});
