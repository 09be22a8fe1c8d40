import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { findingsIn } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../../base/task.ts";
import { analyse, createMemo } from "../analyse.ts";

// The pupil is 0.1 m above the lid and 1.9 m before it: tilt is -3 deg, and +1 deg would be enough for a knob 0.13 m higher.
const TILTS = KIT["slider.rig.yaml"].replace("range: [-95, 60]", "range: [-95, 0.5]");
const BESIDE = { ...KIT, "slider.rig.yaml": TILTS };
const check = (fixture: string): void => checkFindings(fixture, { beside: BESIDE });

describe("passes with targets off their places", () => {
  it("are checked too: a taller knob that the head cannot tilt up to, and one that it can", () => {
    check(`
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
#       ^^^ error axis-range: tilt reaches 0.859 deg at 00:00:00:00 (frame 0) in pass tenmoku, 0.36 deg beyond the high end of its range, 0.5 deg; change the camera's place or the framing at key 2, or move the base.
    axes: { slide: 0.3 }
passes:
  - { name: celadon }
  - { name: tenmoku, targets: { lid: { shift: [0, 0, 13 cm] } }, note: taller knob }
  - { name: shino, targets: { lid: { shift: [0, 0, 8 cm] } } }
  - { name: oribe, targets: { spout: { shift: [0, 0, 2] } }, note: nothing looks at the spout }
`);
  });

  it("are not told again of what the move has itself, but of what is clearly worse", () => {
    check(`
#- same.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: high.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
#       ^^^ error axis-range: tilt reaches 1.43 deg at 00:00:00:00 (frame 0), 0.93 deg beyond the high end of its range, 0.5 deg; change the camera's place or the framing at key 2, or move the base.
    axes: { slide: 0.3 }
passes:
  - { name: tenmoku, targets: { lid: { shift: [0, 0, 2 mm] } } }
#- worse.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: high.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
#       ^^^ error axis-range: tilt reaches 1.43 deg at 00:00:00:00 (frame 0), 0.93 deg beyond the high end of its range, 0.5 deg; change the camera's place or the framing at key 2, or move the base.
#       ^^^ error axis-range: tilt reaches 2 deg at 00:00:00:00 (frame 0) in pass tenmoku, 1.5 deg beyond the high end of its range, 0.5 deg; change the camera's place or the framing at key 2, or move the base.
    axes: { slide: 0.3 }
passes:
  - { name: tenmoku, targets: { lid: { shift: [0, 0, 2 cm] } } }
#- high.set.yaml
set: 1
targets:
  lid: { at: [2, 0, 1.25] }
`);
  });

  it("tell once how passes repeat, whichever target is worst in a pass", () => {
    check(`
#- m.move.yaml
move: 1
rig: loose.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    axes: { slide: 0.3 }
    aim: { at: spout }
passes:
  - name: celadon
  - { name: shino, targets: { lid: { shift: [0.3, 0, 0] } } }
#           ^^^^^ warning match: Pass 2 (shino) may be 5.8 px off pass 1 at lid at 00:00:03:23 (frame 98) (95 %; 1σ 3 px), 3.8 px more than the 2 px allowed; causes: slide 100 %; already pass 2 is beyond it, and measuring in does not help, as the axes come back to 5.8 px at best: allow more.
#- loose.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], origin: { at: [0, 0, 0.9] }, repeat: { sigma: 1 mm } }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 0.15] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 0.1] } }
head: { pan: pan, tilt: tilt }
`);
  });

  it("run what is expected of a target, and shift it in the frame of its turntable", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: turning.set.yaml
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: -4, plate: 0 }
  - at: 8 s
    axes: { plate: 90 }
passes:
  - { name: celadon, times: 2 }
  - { name: tenmoku, targets: { spout: { shift: [-10 cm, 0, 0] } } }
expect:
  - { of: spout.distance, above: 1.9 }
#   ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error expect: spout.distance is 1.8171 m at 00:00:00:00 (frame 0) in pass tenmoku, but at least 1.9 m is expected; change key 1, or what is expected.
  - { of: spout.distance, above: 1.9, from: 7.9 s }
#- turning.set.yaml
set: 1
targets:
  spout: { at: [0, 0, 0.1], on: plate }
turntables:
  plate: { at: [2, 0, 0.9], along: [0, 0, 1], range: [-360, 360] }
`);
  });

  it("point at the pass, and name it apart", () => {
    const text = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys: [{ at: 0 s, axes: { slide: 0 }, aim: lid }, { at: 8 s, axes: { slide: 0.3 } }]
passes: [{ name: tenmoku, targets: { lid: { shift: [0, 0, 13 cm] } } }]
`;
    const [finding] = findingsIn({ ...BESIDE, "m.move.yaml": text }, "m.move.yaml");
    assert.equal(finding.pass, "tenmoku");
    const related = finding.related.find(({ message }) => message === "the pass tenmoku is stated here");
    assert.equal(text.slice(related?.place.span.start, related?.place.span.end), "tenmoku");
  });

  it("are solved again only where an edit changes them", () => {
    const memo = createMemo();
    const text = (more: string, shift = "13 cm", slide = "0.3"): string => `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: lid }
  - { at: 4 s, axes: { slide: 0.2 } }
  - { at: 8 s, axes: { slide: 0.3 }, stop: true }
  - { at: 12 s, axes: { slide: ${slide} } }
passes: [{ name: tenmoku, targets: { lid: { shift: [0, 0, ${shift}] } } }]
${more}
`;
    const solve = (written: string) => {
      runToEnd(
        analyse("m.move.yaml", memorySources(new Map(Object.entries({ ...BESIDE, "m.move.yaml": written }))), memo),
      );
      const trajectory = memo.last("m.move.yaml")?.passes?.get("tenmoku")?.trajectory;
      assert.ok(trajectory);
      return trajectory;
    };
    const first = solve(text("note: a"));
    assert.equal(solve(text("note: b")), first);
    const later = solve(text("note: b", "13 cm", "0.4"));
    assert.notEqual(later, first);
    assert.equal(later.intervals[0], first.intervals[0]);
    assert.ok(later.record.work.reused > 0);
    assert.notEqual(solve(text("note: b", "12 cm", "0.4")).intervals[0], first.intervals[0]);
  });
});
