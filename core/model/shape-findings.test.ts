import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

/** A move of two keys on the slider, aimed at one target and then at another; `more` stands in the second key. */
const check = (second: string, rest = ""): void =>
  checkFindings(
    `
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    name: top
    axes: { slide: 0 }
    aim: lid
  - at: 4 s
    axes: { slide: 0.2 }
${second}
${rest}`,
    { beside: KIT },
  );

describe("findings of holds, eases, switches and speeds", () => {
  it("takes each of them as it should be", () => {
    check(
      `    hold: 50 f
    ease: { linear: { ramp: 0.5 s } }
    speed: 80 %`,
      `  - after: 20 s
    axes: { slide: 0 }
    aim: spout
    switch: { begin: 20 %, end: 0.9, ease: { cubic: [0.25, 0.1, 0.25, 1], ramp: 4000 ms } }
    ease: minimum-jerk
    speed: 1.2
    hold: 1 s`,
    );
  });

  it("key-order: a key within the hold before it, with both places", () => {
    check(
      "    hold: 3 s",
      `  - at: 6 s
#       ^^^ error key-order: The key at 6 s comes while \`key 2\` is held, which is until 7 s: let it come later, or hold for less.
    axes: { slide: 0 }
`,
    );
  });

  it("key-order: a key at the very end of a hold; `after` counts from there", () => {
    check(
      "    hold: 3 s",
      `  - at: 7 s
#       ^^^ error key-order: The key at 7 s comes while \`key 2\` is held, which is until 7 s: let it come later, or hold for less.
    axes: { slide: 0 }
  - after: 2 s
    axes: { slide: 0.1 }
`,
    );
  });

  it("bad-number and wrong-unit: holds that are no length of time", () => {
    check(`    hold: 0 s
#         ^^^ error bad-number: \`hold\` cannot be \`0 s\`: it is a length of time, more than 0 s.`);
    check(`    hold: -2
#         ^^ error bad-number: \`hold\` cannot be \`-2\`: it is a length of time, more than 0 s.`);
    check(`    hold: 2 m
#         ^^^ error wrong-unit: \`hold\`: \`2 m\` is a length; a time (s, ms, min or h) is expected, or frames (\`60 f\`), or a timecode label.`);
  });

  it("missing-field and over-determined: an ease of no form, or of two", () => {
    check(`    ease: {}
#         ^^ error missing-field: \`ease\` is \`minimum-jerk\`, or has \`linear\` or \`cubic\`: give one.`);
    check(`    ease: { linear: { ramp: 1 s }, cubic: [0, 0, 1, 1] }
#         ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error over-determined: \`ease\` has \`linear\` and \`cubic\`: delete one.`);
    check(`    ease: { linear: { ramp: 1 s }, ramp: 1 s }
#         ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error over-determined: The ramp of \`linear\` stands within it, \`linear: { ramp: .. }\`: delete the other.`);
    check(`    ease: linear
#         ^^^^^^ error wrong-type: \`ease\` cannot be \`linear\`; \`minimum-jerk\`, { linear: { ramp } }, or { cubic: [x1, y1, x2, y2] } is expected.`);
  });

  it("bad-number: handles outside the way, or upright in the middle", () => {
    check(`    ease: { cubic: [1.2, 0, 0.5, 1] }
#                   ^^^ error bad-number: \`cubic\`: \`1.2\` is not taken: it must be 1 or less.`);
    check(`    ease: { cubic: [1, 0, 0, 1] }
#                  ^^^^^^^^^^^^ error bad-number: \`cubic\` stands upright in its middle, where its speed has no bound: let x1 be less than 1, or x2 more than 0.`);
  });

  it("bad-number: ramps without room, on the way from where the channel rests", () => {
    check(`    ease: { linear: { ramp: 2.5 s } }
#                           ^^^^^ error bad-number: \`ramp\` is 2.5 s, but the way to key 2 takes 4 s and has two of them: 2 s at most.`);
    check(
      "    hold: 1 s",
      `  - after: 3 s
    axes: { slide: 0 }
    ease: { cubic: [0, 0, 1, 1], ramp: 2 s }
#                                      ^^^ error bad-number: \`ramp\` is 2 s, but the way to key 3 takes 3 s and has two of them: 1.5 s at most.
`,
    );
    check(`    aim: spout
    switch: { begin: 50 %, ease: { linear: { ramp: 1500 ms } } }
#                                                  ^^^^^^^ error bad-number: \`ramp\` is 1.5 s, but the way to key 2 takes 2 s and has two of them: 1 s at most.`);
  });

  it("missing-field: an ease with nothing to shape", () => {
    check(
      "",
      `  - at: 6 s
    aim: spout
    ease: minimum-jerk
#   ^^^^ error missing-field: \`ease\` has nothing to shape at key 3: it gives no channel that an earlier key gives too. The aim goes over to another target as \`switch\` says. Give one of \`axes\`, \`camera\`, \`zoom\`, \`iris\` or \`roll\` there and before, or delete it.
  - at: 8 s
    iris: 4
    ease: minimum-jerk
#   ^^^^ error missing-field: \`ease\` has nothing to shape at key 4: it gives no channel that an earlier key gives too. Give one of \`axes\`, \`camera\`, \`zoom\`, \`iris\` or \`roll\` there and before, or delete it.
`,
    );
  });

  it("missing-field: an ease out of an aim that ends in motion, but not out of one that ends at rest", () => {
    check(
      `    aim: none
    stop: true`,
      `  - at: 14 s
    axes: { pan: 3, tilt: 0 }
    ease: { linear: { ramp: 5 s } }
`,
    );
    check(
      "    aim: none",
      `  - at: 14 s
    axes: { pan: 3, tilt: 0 }
    ease: { linear: { ramp: 5 s } }
#   ^^^^ error missing-field: \`ease\` has nothing to shape at key 3: it gives no channel that an earlier key gives too. Out of an aim that ends while they move, axes are not eased: let it end at a key with \`stop\` or \`hold\`. Give one of \`axes\`, \`camera\`, \`zoom\`, \`iris\` or \`roll\` there and before, or delete it.
`,
    );
  });

  it("bad-number: a switch that ends before it begins", () => {
    check(`    aim: spout
    switch: { begin: 60 %, end: 40 % }
#           ^^^^^^^^^^^^^^^^^^^^^^^^^^ error bad-number: \`switch\` begins at 60 % of the way and ends at 40 %: \`begin\` is less than \`end\`.`);
    check(`    aim: spout
    switch: { begin: 100 % }
#           ^^^^^^^^^^^^^^^^ error bad-number: \`switch\` begins at 100 % of the way and ends at 100 %: \`begin\` is less than \`end\`.`);
    check(`    aim: spout
    switch: { begin: 120 % }
#                    ^^^^^ error bad-number: \`begin\`: \`120 %\` is not taken: it must be 1 or less.`);
  });

  it("missing-field: a switch at a key that changes no target", () => {
    check(`    aim: lid
    switch: { begin: 20 % }
#   ^^^^^^ error missing-field: \`switch\` shapes a change of target, but neither aim nor focus goes over to another target at key 2: give one, or delete it.`);
    check(
      "    aim: none",
      `  - at: 6 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 8 s
    aim: spout
    switch: { end: 50 % }
#   ^^^^^^ error missing-field: \`switch\` shapes a change of target, but neither aim nor focus goes over to another target at key 4: give one, or delete it.
`,
    );
  });

  it("a switch of focus alone, and one to a target that is not known", () => {
    check(
      `    focus: lid`,
      `  - at: 6 s
    focus: 1.8 m
    switch: { begin: 20 % }
  - at: 8 s
    focus: lidd
#          ^^^^ error unknown-target: There is no target \`lidd\`. Did you mean \`lid\`?
    switch: { begin: 20 % }
`,
    );
  });

  it("bad-number: a speed that is none", () => {
    check(`    speed: 0 %
#          ^^^ error bad-number: \`speed\`: \`0 %\` is not taken: it must be more than 0.`);
    check(`    speed: -50 %
#          ^^^^^ error bad-number: \`speed\`: \`-50 %\` is not taken: it must be more than 0.`);
  });
});

describe("findings of the motion beside holds", () => {
  it("count the way from the end of the hold before", () => {
    checkFindings(
      `
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    name: top
    axes: { slide: 0, pan: 0, tilt: 0 }
    hold: 3 s
  - at: 4 s
    axes: { slide: 0.15 }
#                  ^^^^ error axis-jerk: slide jerks at 9 m/s3 at 00:00:03:00 (frame 75), 13 % above its limit of 8 m/s3; stretch the 1 s from top to key 2 to about 1.05 s, or raise the limit.
#                  ^^^^ error axis-jerk: slide jerks at 9 m/s3 at 00:00:04:00 (frame 100), 13 % above its limit of 8 m/s3; stretch the 1 s from top to key 2 to about 1.05 s, or raise the limit.
`,
      { beside: KIT },
    );
  });

  it("belong to the key that is held, not to the next", () => {
    checkFindings(
      `
#- stream.set.yaml
set: 1
targets:
  stream: { follow: [{ at: 0 s, to: [2, 0, 1] }, { at: 3 s, to: [2, 0, 1] }, { at: 4.5 s, to: [2, 1.2, 1] }] }
#- plain.rig.yaml
rig: 1
name: Slider with a two-axis head
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], origin: { at: [0, 0, 0.9] }, range: [-1, 1] }
  - { axis: pan, type: rotary, along: [0, 0, 1], origin: { at: [0, 0, 0.15] }, range: [-100, 100], limits: { speed: 30 } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 0.1] }, range: [-95, 60] }
head: { pan: pan, tilt: tilt }
camera-mount: { at: [0.04, 0, 0.05] }
#- m.move.yaml
move: 1
rig: plain.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: stream.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: stream
  - at: 2 s
#       ^^^ error axis-speed: pan turns at 41.2 deg/s at 00:00:03:18 (frame 93), 37 % above its limit of 30 deg/s; give it more time or raise the limit.
    axes: { slide: 0.15 }
    hold: 3 s
  - after: 3 s
    axes: { slide: 0 }
`,
      { beside: KIT },
    );
  });
});
