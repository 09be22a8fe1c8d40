import assert from "node:assert/strict";
import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { resolveMove } from "./resolve-move.ts";
import type { ResolvedWayBack } from "../motion/resolved-move.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

const moveText = (more: string): string => `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5, plate: 40 } }
${more}`;

function wayOf(more: string): ResolvedWayBack | undefined {
  const { move, problems } = resolveMove(
    "m.move.yaml",
    memorySources(new Map(Object.entries({ ...KIT, "m.move.yaml": moveText(more) }))),
  );
  assert.deepEqual(problems, []);
  return move?.wayBack;
}

describe("return", () => {
  it("is read in all its forms", () => {
    assert.equal(wayOf(""), undefined);
    assert.equal(wayOf("return: none\n")?.kind, "none");
    const halves = wayOf("return: reversed\n");
    assert.ok(halves?.kind === "reversed" && halves.share === 0.5);
    const thirty = wayOf("return: { speed: 30 % }\n");
    assert.ok(thirty?.kind === "reversed" && thirty.share === 0.3);
    const way = wayOf("return: { time: 250 f, via: [{ at: 40 %, axes: { tilt: 30, plate: 10 } }] }\n");
    assert.ok(way?.kind === "direct" && way.time === 10);
    assert.deepEqual(
      way.via.map(({ at, axes }) => [at, ...axes.map(({ axis, value }) => [axis, value])]),
      [[0.4, [2, Math.PI / 6], [3, Math.PI / 18]]],
    );
  });

  it("says what it cannot be", () => {
    check(`
#- a.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: backwards
#       ^^^^^^^^^ error wrong-type: \`return\` cannot be \`backwards\`; \`reversed\`, \`none\`, { speed }, or { time, via } is expected.
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#- b.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: {}
#       ^^ error missing-field: \`return\` is empty: give \`speed\` or \`time\`, or delete it.
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#- c.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { speed: 50 %, time: 4 s }
#       ^^^^^^^^^^^^^^^^^^^^^^^^^^ error over-determined: \`return\` has \`speed\`, for the way reversed, and \`time\` or \`via\`, for another way: delete one.
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#- d.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { speed: 150 % }
#                ^^^^^ error bad-number: \`speed\`: \`150 %\` is not taken: it must be 1 or less.
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#- e.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { via: [{ at: 50 %, axes: { pan: 0 } }] }
#       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error missing-field: \`return\` has \`via\`, but no \`time\`: say how long all of the way takes.
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#- f.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { time: 0 s }
#               ^^^ error bad-number: \`time\` cannot be \`0 s\`: it is a length of time, more than 0 s.
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#- g.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { time: 5 m }
#               ^^^ error wrong-unit: \`time\`: \`5 m\` is a length; a time (s, ms, min or h) is expected, or frames (\`60 f\`), or a timecode label.
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#- h.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { time: 5 s, via: [{ at: 50 %, axes: { pan: 0 } }, { at: 40 %, axes: { pan: 0 } }, { at: 100 %, axes: { pan: 0 } }] }
#                                                                ^^^^ error key-order: \`via\` is in order of time: this one is not later than the one before it.
#                                                                                                ^^^^^ error bad-number: \`via\` is on the way: its share of the time is less than 100 %, where the first key is.
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#- i.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { time: 5 s, via: [{ at: 50 %, axes: { pam: 0, slide: 3 deg } }] }
#                                              ^^^ error unknown-axis: There is no axis \`pam\`. Did you mean \`pan\`?
#                                                             ^^^^^ error wrong-unit: \`slide\`: \`3 deg\` is an angle; a length (m, cm, mm, in or ft) is expected.
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#- crane.move.yaml
move: 1
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { time: 8 s, via: [{ at: 50 %, axes: { level: 0, lift: 10 } }] }
#                                              ^^^^^ error over-determined: \`level\` has no value of its own here: it follows another axis. Key its leader.
keys:
  - { at: 0 s, axes: { swing: 0, lift: 0, pan: 0, tilt: 0 } }
  - { at: 6 s, axes: { swing: 20 } }
`);
  });
});
