import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("findings of rigs", () => {
  it("a right one has none", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
`);
  });

  it("duplicate-name: two axes of one name", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: pan, type: rotary, along: [0, -1, 0] }
#           ^^^ error duplicate-name: \`pan\` stands twice in the chain: each link has a name of its own.
head: { pan: pan, tilt: pan }
`);
  });

  it("unknown-axis: in the head, a follower, a body, the power", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tild }
#                       ^^^^ error unknown-axis: There is no axis \`tild\`. Did you mean \`tilt\`?
`);
  });

  it("unknown-axis: what is carried", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
bodies: [{ on: slid, box: [1, 1, 1] }]
#              ^^^^ error unknown-axis: There is no axis \`slid\`. Did you mean \`slide\`?
counterweight: { on: arm, at: [0, 0, 0], mass: 9 kg }
#                    ^^^ error unknown-axis: There is no axis \`arm\`. Known: \`slide\`, \`pan\` and \`tilt\`.
power: { battery: 150 Wh, axes: { slied: 3 W } }
#                                 ^^^^^ error unknown-axis: There is no axis \`slied\`. Did you mean \`slide\`?
`);
  });

  it("degenerate-chain: an empty chain", () => {
    check(`
#- r.rig.yaml
rig: 1
chain: []
#      ^^ error degenerate-chain: \`chain\` is empty: a rig has one link or more.
`);
  });

  it("degenerate-chain: nothing is driven", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: post, type: linear, drive: setup }
# ^ error degenerate-chain: No axis of this chain is driven in a take, so nothing can move.
`);
  });

  it("degenerate-chain: a circle of followers", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: a, type: rotary, follows: { axis: b } }
#                                     ^^^^^^^^^^^ error degenerate-chain: \`a\` follows \`b\` follows \`a\`: a circle of followers has no leader.
  - { axis: b, type: rotary, follows: { axis: a } }
  - { axis: c, type: rotary }
`);
  });

  it("degenerate-chain: pan and tilt about the same direction", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, 0, -1] }
head: { pan: pan, tilt: tilt }
#     ^^^^^^^^^^^^^^^^^^^^^^^^ error degenerate-chain: \`head\`: pan and tilt turn about the same direction, so most targets are out of their reach.
`);
  });

  it("degenerate-chain: a head of an axis that slides", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: slide, tilt: tilt }
#            ^^^^^ error degenerate-chain: \`pan\` of the head must turn and be driven in the take, but \`slide\` is linear.
`);
  });

  it("degenerate-chain: tilt before pan", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: tilt, tilt: pan }
#     ^^^^^^^^^^^^^^^^^^^^^^^^ error degenerate-chain: \`head\`: tilt must come after pan in the chain, nearer to the camera.
`);
  });

  it("wrong-unit: a bare ratio between a slide and a turn", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: wheel, type: rotary, follows: { axis: slide, ratio: 2 } }
#                                                               ^ error wrong-unit: \`ratio\`: \`2\` has no unit, but the axes are of unlike types; a ratio with its unit, such as \`2 deg/mm\`, is expected.
  - { axis: good, type: rotary, follows: { axis: slide, ratio: 2 deg/mm } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
`);
  });

  it("over-determined: a fixed link with a range, a follower that is set by hand", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: plate, type: fixed, range: [0, 1] }
#                                      ^^^^^^ error over-determined: \`plate\` is fixed, so \`range\` means nothing there: delete it, or give another \`type\`.
  - { axis: hand, type: rotary, drive: setup, follows: { axis: pan } }
#                                      ^^^^^ error over-determined: \`hand\` follows another axis, so it cannot be set by hand too: delete \`drive\` or \`follows\`.
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
`);
  });

  it("missing-field: neither chain nor URDF", () => {
    check(`
#- r.rig.yaml
rig: 1
#<^ error missing-field: \`rig\` lacks \`chain\`, the list of its links from the base to the camera, or \`urdf\`, a file of them.
name: empty
`);
  });

  it("missing-field: what balances or stands, without what it weighs", () => {
    check(`
#- r.rig.yaml
rig: 1
chain:
  - { axis: lift, type: rotary, along: [0, -1, 0], range: [-40, 40] }
  - { axis: pan, type: rotary, origin: { at: [1, 0, 0] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
counterweight: { on: lift, at: [-0.6, 0, 0], mass: 9 kg }
#              ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ information missing-field: \`counterweight\` is stated without \`masses\`, so whether it balances the arm is not told: list what the links weigh.
support: [[-0.4, 0.4], [0.4, 0.4], [0, -0.4]]
#        ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ information missing-field: \`support\` is stated without \`masses\`, so whether the rig may tip over is not told: list what the links weigh.
#- weighed.rig.yaml
rig: 1
chain:
  - { axis: lift, type: rotary, along: [0, -1, 0], range: [-40, 40] }
  - { axis: pan, type: rotary, origin: { at: [1, 0, 0] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
masses: [{ on: base, mass: 90 kg }]
counterweight: { on: lift, at: [-0.6, 0, 0], mass: 9 kg }
support: [[-0.4, 0.4], [0.4, 0.4], [0, -0.4]]
`);
  });

  it("feet that are no polygon, that a joint tilts, or that nothing carries", () => {
    check(`
#- few.rig.yaml
rig: 1
chain:
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
masses: [{ on: base, mass: 90 kg }]
support: [[-0.4, 0.4], [0.4, 0.4]]
#        ^^^^^^^^^^^^^^^^^^^^^^^^^ error wrong-type: \`support\` is a polygon: give three corners [x, y] or more.
#- line.rig.yaml
rig: 1
chain:
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
masses: [{ on: base, mass: 90 kg }]
support: { corners: [[-0.4, -0.4], [0.1, 0.1], [0.4, 0.4]] }
#                   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error bad-number: The corners of \`support\` are all on one line, on which nothing stands: give the feet on both sides.
#- tilted.rig.yaml
rig: 1
chain:
  - { axis: dolly, type: linear, along: [1, 0, 0], range: [0, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
  - { axis: roll, type: rotary, along: [1, 0, 0] }
head: { pan: pan, tilt: tilt, roll: roll }
masses: [{ on: base, mass: 90 kg }]
support: { on: roll, corners: [[-0.4, -0.4], [0.4, -0.4], [0, 0.4]] }
#              ^^^^ error degenerate-chain: \`roll\` cannot carry the feet: \`tilt\` tilts it against the base. Name the link that rolls along with them, or \`base\`.
#- steep.rig.yaml
rig: 1
chain:
  - { axis: track, type: linear, along: [1, 0, 0], origin: { turn: [0, -10, 0] }, range: [0, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
masses: [{ on: base, mass: 90 kg }]
support: { on: track, corners: [[-0.4, -0.4], [0.4, -0.4], [0, 0.4]] }
#              ^^^^^ error degenerate-chain: \`track\` cannot carry the feet: \`track\` tilts it against the base. Name the link that rolls along with them, or \`base\`.
#- nobody.rig.yaml
rig: 1
chain:
  - { axis: dolly, type: linear, along: [1, 0, 0], range: [0, 1] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
masses: [{ on: base, mass: 90 kg }]
support: { on: doly, corners: [[-0.4, -0.4], [0.4, -0.4], [0, 0.4]], margin: 95 % }
#                                                                            ^^^^ error bad-number: \`margin\`: \`95 %\` is not taken: it must be 0.9 or less.
#              ^^^^ error unknown-axis: There is no axis \`doly\`. Did you mean \`dolly\`?
#- bare.rig.yaml
rig: 1
chain:
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
masses: [{ on: base, mass: 90 kg }]
support: { on: base }
#<^^^^^ error missing-field: \`support\` lacks \`corners\`, a list. The corners [x, y] in the frame of that link: three or more.
#- rolls.rig.yaml
rig: 1
chain:
  - { axis: dolly, type: linear, along: [1, 0, 0], origin: { at: [0, 0, 0.2], turn: [0, 0, 30] }, range: [0, 1] }
  - { axis: swing, type: rotary, along: [0, 0, -1] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 1] } }
masses: [{ on: base, mass: 90 kg }]
support: { on: swing, corners: [[-0.4, -0.4], [0.4, -0.4], [0, 0.4]], margin: 0 % }
`);
  });
});
