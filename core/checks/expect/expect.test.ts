import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

// The slide goes 0.8 m from rest to rest in 8 s, a minimum-jerk quintic: its speed peaks at 15/8 · 0.8/8 = 0.1875 m/s in
// the middle, its acceleration at 10/√3 · 0.8/64 = 0.0722 m/s² (Flash & Hogan 1985).

describe("expect", () => {
  it("holds just inside the extremes of an axis", () => {
    check(
      `
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
    axes: { slide: 0.8 }
expect:
  - { of: slide.speed, below: 0.1876 }
  - { of: slide.accel, below: 0.0722 }
  - { of: slide.value, between: [0, 0.8] }
  - { of: slide.speed, above: 0.1874, at: 4 s }
  - { of: duration, below: 8.001 s, above: 7.999 s }
`,
    );
  });

  it("tells the extreme that breaks it, and when", () => {
    check(
      `
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
    axes: { slide: 0.8 }
expect:
  - { of: slide.speed, below: 0.1874 }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: slide.speed is 0.188 m/s at 00:00:04:00 (frame 100), but at most 0.1874 m/s is expected; change key 2, or what is expected.
  - { of: slide.accel, below: 0.0721 m/s2 }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: slide.accel is 0.0722 m/s2 at 00:00:01:17 (frame 42), but at most 0.0721 m/s2 is expected; change key 2, or what is expected.
  - { of: slide.value, between: [0.1, 0.79], from: 2 s, to: 8 s }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: slide.value is 82.8 mm at 00:00:02:00 (frame 50), but at least 0.1 m is expected from 2 s to 8 s; change key 2, or what is expected.
  - { of: slide.speed, above: 0.1876, at: 4 s }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: slide.speed is 0.188 m/s at 00:00:04:00 (frame 100), but at least 0.1876 m/s is expected; change key 2, or what is expected.
  - { of: slide.speed, above: 0.01 }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: slide.speed is 0 m/s at 00:00:00:00 (frame 0), but at least 0.01 m/s is expected; change key 1, or what is expected.
  - { of: duration, below: 7.9 s }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: duration is 8 s, but at most 7.9 s is expected; change the keys, or what is expected.
`,
    );
  });

  it("measures the camera and targets", () => {
    check(
      `
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
    axes: { slide: 0.8 }
expect:
  - { of: camera.speed, below: 0.1 }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: camera.speed is 0.179 m/s at 00:00:04:00 (frame 100), but at most 0.1 m/s is expected; change key 2, or what is expected.
  - { of: camera.height, above: 1 m }
  - { of: lid.distance, above: 1 m }
  - { of: lid.framing.across, between: [0.499, 0.501] }
  - { of: lid.framing.down, below: 40 % }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: lid.framing.down is 50 % at 00:00:00:00 (frame 0), but at most 40 % is expected; change key 1, or what is expected.
  - { of: slide.share, below: 10 % }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: slide.share is 37.5 % at 00:00:04:00 (frame 100), but at most 10 % is expected; change key 2, or what is expected.
`,
    );
  });

  it("names what is wrong with its text", () => {
    check(
      `
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
    axes: { slide: 0.8 }
expect:
  - { of: slide.speed, below: 1 deg/s }
#                             ^^^^^^^ error wrong-unit: \`below\`: \`1 deg/s\` is a speed of turning; a speed along a line (m/s, cm/s, mm/s, in/s or ft/s) is expected.
  - { of: slide.sped, below: 1 }
#         ^^^^^^^^^^ error wrong-type: \`slide.sped\` is no quantity of the motion. Did you mean \`slide.speed\`?
  - { of: slide.speed }
#     ^^ error missing-field: An expectation gives \`below\`, \`above\` or \`between\`.
  - { of: slide.speed, below: 1, at: 9 s }
#                                    ^^^ error bad-number: \`at\` is outside of the move, which lasts 8 s as it is played.
  - { of: slide.speed, below: 1, from: 5 s, to: 4 s }
#                                               ^^^ error bad-number: \`to\` is before \`from\`: exchange the two.
  - { of: slide.speed, below: 1, at: 2 s, to: 4 s }
#                                    ^^^ error over-determined: An expectation holds \`at\` one time, or \`from\` a time \`to\` another: delete one of the two.
  - { of: slide.value, between: [1, 0.5] }
#                               ^^^^^^^^ error bad-number: \`between\` is [lowest, highest]: its first value must be less than its second.
`,
    );
  });

  it("speaks of written times: at half speed the middle of the way is written at 4 s and played at 8 s", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: lid
    speed: 50 %
  - at: 8 s
    axes: { slide: 0.8 }
    hold: 1 s
expect:
  - { of: slide.value, between: [0.399, 0.401], at: 4 s }
  - { of: slide.speed, below: 0.0001, from: 8 s, to: 9 s }
  - { of: duration, between: [17.99, 18.01] }
`);
  });
});
