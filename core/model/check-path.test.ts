import { checkFindings } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("a key's path", () => {
  it("leads from the key before, so the first key has none", () => {
    check(`
#- m.move.yaml
move: 1
rig: telescope.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    path: line
#         ^^^^ error over-determined: \`path\` says how the camera comes from the key before, and the first key has none: delete it.
    camera: { at: [1.2, -0.3, 1.2] }
    aim: lid
  - at: 6 s
    path: line
    camera: { at: [1.2, 0.3, 1.2] }
`);
  });

  it("as an arc goes via a point or about a target, and only the second has an axis", () => {
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
    path: { arc: { via: [1.3, 0, 1.2], about: lid } }
#                ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error over-determined: \`arc\` goes \`via\` a point, or \`about\` a target: give one of the two.
    camera: { at: [1.2, 0.3, 1.2] }
  - at: 12 s
    path: { arc: {} }
#                ^^ error missing-field: \`arc\` goes \`via\` a point, or \`about\` a target: give one of the two.
    camera: { at: [1.2, 0, 1.2] }
  - at: 18 s
    path: { arc: { about: lidd } }
#                         ^^^^ error unknown-target: There is no target \`lidd\`. Did you mean \`lid\`?
#         ^^^^^^^^^^^^^^^^^^^^^^^^ warning sharp-corner: The path turns by 132.64 deg at key 4 at 00:00:18:00 (frame 450), and nothing says what to do there, so the camera rests; add \`stop: true\` if it is to, or \`blend\` with a length to lead it round.
    camera: { at: [1.2, -0.3, 1.2] }
  - at: 24 s
    path: { arc: { via: [1.3, 0, 1.2], along: [0, 0, 1] } }
#                                             ^^^^^^^^^ error over-determined: \`along\` is the axis of an arc \`about\` a target; three points have their own: delete it.
    camera: { at: [1.2, 0.3, 1.2] }
`);
  });

  it("is rounded by a blend only between two paths, where nothing rests", () => {
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
    blend: 0.1 m
#   ^^^^^ error over-determined: \`blend\` rounds a corner between two lines or arcs, but at key 1 no path leads to it: delete it, or give \`path\` there and at the next key.
  - at: 6 s
    path: line
    blend: 0.1 m
#   ^^^^^ error over-determined: The camera rests at key 2 (\`stop\`) or rounds its corner (\`blend\`): delete one of the two.
    stop: true
    camera: { at: [1.2, 0.1, 1.2] }
  - at: 12 s
    path: line
    blend: 0.1 m
#   ^^^^^ error over-determined: The camera rests at key 3 (\`hold\`) or rounds its corner (\`blend\`): delete one of the two.
    hold: 1 s
    camera: { at: [1.3, 0.1, 1.2] }
  - at: 18 s
    path: line
    blend: 0.1 m
#   ^^^^^ error over-determined: The \`ease\` at key 4 has the camera rest at key 4, so there is no corner to round: delete \`blend\` or \`ease\`.
    ease: minimum-jerk
    camera: { at: [1.3, -0.1, 1.2] }
  - at: 24 s
    path: line
    blend: 0.1 m
#   ^^^^^ error over-determined: \`blend\` rounds a corner between two lines or arcs, but at key 5 no path leads on from it: delete it, or give \`path\` there and at the next key.
    camera: { at: [1.2, -0.1, 1.2] }
  - at: 30 s
    axes: { swing: 0, lift: 0, tube: -0.2 }
`);
  });
});
