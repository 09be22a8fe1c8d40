import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { findingsIn } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("sharp-corner", () => {
  it("is found where two lines meet at an angle and nothing says what to do", () => {
    check(`
#- m.move.yaml
move: 1
rig: telescope.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    camera: { at: [1.2, -0.3, 1.2] }
    aim: lid
  - at: 6 s
    path: line
#         ^^^^ warning sharp-corner: The path turns by 90 deg at key 2 at 00:00:06:00 (frame 150), and nothing says what to do there, so the camera rests; add \`stop: true\` if it is to, or \`blend\` with a length to lead it round.
    camera: { at: [1.2, 0.1, 1.2] }
  - at: 12 s
    path: line
    camera: { at: [1.4, 0.1, 1.2] }
`);
  });

  it("is none where the camera stops, goes round, or goes straight on", () => {
    check(`
#- m.move.yaml
move: 1
rig: telescope.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    camera: { at: [1.2, -0.3, 1.2] }
    aim: lid
  - at: 6 s
    path: line
    stop: true
    camera: { at: [1.2, 0.1, 1.2] }
  - at: 12 s
    path: line
    blend: 0.1 m
    camera: { at: [1.4, 0.1, 1.2] }
  - at: 20 s
    path: line
    camera: { at: [1.4, 0.25, 1.2] }
  - at: 26 s
    path: line
    camera: { at: [1.4, 0.4, 1.2] }
`);
  });

  it("is told of a line that meets an arc without an angle, as the curvature steps", () => {
    check(`
#- m.move.yaml
move: 1
rig: telescope.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    camera: { at: [1.2, -0.5, 1.2] }
    aim: lid
  - at: 8 s
    path: line
#         ^^^^ warning sharp-corner: The path goes on in the same direction at key 2, but its curvature steps at 00:00:08:00 (frame 200), and nothing says what to do there, so the camera rests; add \`stop: true\` if it is to, or \`blend\` with a length to lead it round.
    camera: { at: [1.2, 0, 1.2] }
  - at: 14 s
    path: { arc: { about: lid } }
    camera: { from: lid, offset: [-0.48, 0.64, 0.1] }
`);
  });
});

describe("a path's form", () => {
  it("is said where no circle makes the arc that is asked for", () => {
    check(`
#- m.move.yaml
move: 1
rig: telescope.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    camera: { at: [1.2, -0.3, 1.2] }
    aim: lid
  - at: 6 s
    path: { arc: { via: [1.2, 0, 1.2] } }
#         ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error bad-number: No circle goes through the start of the arc to key 2, its \`via\` and its end: they are on one line, or two are the same; move \`via\` aside; the camera goes straight to key 2 instead.
    camera: { at: [1.2, 0.3, 1.2] }
    stop: true
  - at: 12 s
    path: { arc: { about: lid } }
#         ^^^^^^^^^^^^^^^^^^^^^^^ error bad-number: The arc to key 3 begins and ends in the same direction from its axis, so there is no angle to go round; for a whole turn add a key between; the camera goes straight to key 3 instead.
    camera: { from: lid, offset: [-0.5, 0.1875, 0.1] }
`);
  });

  it("has no corner to round where lines go straight on", () => {
    check(`
#- m.move.yaml
move: 1
rig: telescope.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    camera: { at: [1.2, -0.3, 1.2] }
    aim: lid
  - at: 6 s
    path: line
    blend: 0.1 m
#          ^^^^^ warning over-determined: The path goes on smoothly at key 2, so \`blend\` has no corner to round there; delete it.
    camera: { at: [1.2, 0, 1.2] }
  - at: 12 s
    path: line
    camera: { at: [1.2, 0.3, 1.2] }
`);
  });
});

describe("out-of-reach along a path", () => {
  it("is one finding with its span: a slider cannot leave its own line", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.2 }
    aim: lid
  - at: 8 s
    axes: { slide: 0.2 }
    path: line
#         ^^^^ error out-of-reach: The rig cannot follow the line to key 2: it stays 0.5 mm off at 00:00:04:00 (frame 100), nearest at [0.092, 0.000, 1.195]; no axis is at an end of its range: the arm is at full stretch, or the rig has no axis that way.
`);
  });

  it("is none for a slider along its own line with a head that stays", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.2, pan: 5, tilt: -3 }
  - at: 8 s
    axes: { slide: 0.2 }
    path: line
`);
  });

  it("is left to axis-range, with its span, where an axis has not travel enough", () => {
    check(`
#- m.move.yaml
move: 1
rig: telescope.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    camera: { at: [1.3, -1.45, 1.3] }
    aim: lid
  - at: 20 s
    path: { arc: { via: [2.6, 0, 1.3] } }
    camera: { at: [1.3, 1.45, 1.3] }
#           ^^^^^^^^^^^^^^^^^^^^^^^^ error axis-range: tube reaches 1.2158 m at 00:00:10:00 (frame 250), 0.6158 m beyond the high end of its range, 0.6 m; change the camera's place or the framing at key 2, or move the base.
#           ^^^^^^^^^^^^^^^^^^^^^^^^ error axis-range: pan reaches 245.1 deg at 00:00:20:00 (frame 500), 65.1 deg beyond the high end of its range, 180 deg; change the camera's place or the framing at key 2, or move the base.
`);
  });
});

describe("a path that is played slowly", () => {
  for (const [rig, from] of [
    ["slider", "slide: -0.2"],
    ["crane", "swing: -8, lift: 3"],
    ["telescope", "swing: -8, lift: 3, tube: -0.2"],
  ]) {
    it(`is planned on the ${rig}, although its times do not come out round`, () => {
      for (const speed of ["5 %", "7 %"]) {
        const text = `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { ${from} }, aim: { at: lid }, speed: ${speed} }
  - { at: 1 s, camera: { from: lid, offset: [-1, 0.3, 0.2] }, path: line }
  - { at: 2 s, camera: { from: spout, offset: [-1.1, 0.2, 0.1] }, stop: true }
`;
        const codes = findingsIn({ ...KIT, "m.move.yaml": text }, "m.move.yaml").map(({ code }) => code);
        assert.ok(!codes.includes("internal-error"), `${speed}: ${codes.join()}`);
      }
    });
  }
});
