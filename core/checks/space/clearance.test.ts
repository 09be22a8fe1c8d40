import assert from "node:assert/strict";
import { assertCures, findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../../base/task.ts";
import { analyse, createMemo } from "../analyse.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("clearance", () => {
  it("is found where the camera passes a post between keys, not where it keeps the distance", () => {
    check(`
#- near.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: post.set.yaml
keys:
  - { at: 0 s, axes: { slide: -0.5, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#         ^^^ error clearance: the camera is 40 mm from post at 00:00:02:00 (frame 50), 10 mm nearer than the clearance of 50 mm; lead the move past at a distance, or move post.
#                             ^^^ information near-limit: slide uses 94 % of its speed limit at 00:00:02:00 (frame 50): 0.469 m/s of 0.5 m/s.
#- post.set.yaml
set: 1
obstacles: { post: { cylinder: { radius: 0.02, height: 2 }, at: [0.15, 0, 1] } }
#- clear.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: post.set.yaml
tolerance: { clearance: 39.9 mm }
keys:
  - { at: 0 s, axes: { slide: -0.5, pan: 0, tilt: 0 } }
  - { at: 4 s, axes: { slide: 0.5 } }
#                             ^^^ information near-limit: slide uses 94 % of its speed limit at 00:00:02:00 (frame 50): 0.469 m/s of 0.5 m/s.
`);
  });

  it("finds a rod of 2 mm that the camera passes at full speed between two frames", () => {
    const documents: Documents = {
      ...KIT,
      "fast.rig.yaml": `rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], origin: { at: [0, 0, 1] }, range: [-10, 10] }
`,
      "rod.set.yaml": `set: 1
obstacles: { rod: { cylinder: { radius: 2 mm, height: 3 }, at: [0.02, 0.31, 1] } }
`,
      "m.move.yaml": `move: 1
rig: fast.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: rod.set.yaml
rate: 24
tolerance: { clearance: 1 mm }
keys:
  - { at: 0 s, axes: { slide: -8 } }
  - { at: 2 s, axes: { slide: 8 } }
`,
    };
    // At 15 m/s a frame takes 0.62 m; the rod is passed in less than half a thousandth of a second.
    const [finding, ...rest] = findingsOfCode(documents, "m.move.yaml", "clearance");
    assert.equal(rest.length, 0);
    assert.ok(finding.time && finding.time.to - finding.time.from < 1e-3);
    assert.ok(finding.value !== undefined && finding.value <= 0);
    const frames = [finding.time.from, finding.time.to].map((t) => Math.floor(t * 24));
    assert.equal(frames[0], frames[1], "no frame is exposed in between");
  });

  it("measures from the lens barrel and from the matte box", () => {
    check(`
#- box.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, mass: 1.9 kg, coc: 0.03 mm }
lenses:
  bare: { focal: 24 mm, iris: 2.8, close-focus: 0.1 m, pupil: 50 mm, mass: 0.7 kg, front: { length: 120 mm, diameter: 80 mm } }
attachments:
  - { name: matte-box, box: [0.06, 0.2, 0.14], at: [0.14, 0, 0] }
#- wall.set.yaml
set: 1
obstacles: { wall: { box: [0.1, 4, 1], at: [0.27, 0, 1.1] } }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: box.camera.yaml, lens: bare }
set: wall.set.yaml
keys:
  - { at: 0 s, axes: { slide: -0.5, pan: 0, tilt: 0 } }
#         ^^^ error clearance: matte-box is 10 mm from wall at 00:00:00:00 (frame 0), 40 mm nearer than the clearance of 50 mm; lead the move past at a distance, or move wall.
  - { at: 4 s, axes: { slide: 0.5 } }
#                             ^^^ information near-limit: slide uses 94 % of its speed limit at 00:00:02:00 (frame 50): 0.469 m/s of 0.5 m/s.
`);
  });

  it("turns what stands on a turntable", () => {
    check(`
#- turning.set.yaml
set: 1
turntables: { plate: { at: [0.62, 0, 1], range: [-360, 360], limits: { speed: 100, accel: 300, jerk: 2000 } } }
obstacles: { arm: { box: [0.5, 0.02, 0.5], at: [0.25, 0, 0.1], on: plate } }
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: turning.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0, plate: 0 } }
  - { at: 8 s, axes: { plate: 300 } }
#         ^^^ error clearance: the camera is 29.9 mm from arm at 00:00:04:11 (frame 111), 20.1 mm nearer than the clearance of 50 mm; lead the move past at a distance, or move arm.
`);
  });

  it("says that a name of a turntable is not known", () => {
    check(`
#- lost.set.yaml
set: 1
turntables: { plate: { at: [0.7, 0, 1] } }
obstacles: { arm: { sphere: { radius: 0.1 }, at: [0, 0, 0], on: plato } }
#                                                               ^^^^^ error unknown-axis: There is no turntable \`plato\`. Did you mean \`plate\`?
`);
  });

  it("lets the base stand beside what stands in the set, not within it", () => {
    check(`
#- rails.rig.yaml
rig: 1
chain:
  - { axis: slide, type: linear, along: [0, 1, 0], origin: { at: [0, 0, 1] }, range: [-1, 1] }
bodies:
  - { name: rail, on: base, box: [0.1, 3, 0.1], at: [0, 0, 0.05] }
#- corner.set.yaml
set: 1
obstacles:
  touching: { box: [0.1, 0.2, 0.4], at: [0.1, 0.5, 0.2] }
  through: { box: [0.1, 0.2, 0.4], at: [0.08, -0.5, 0.2] }
#- m.move.yaml
move: 1
rig: rails.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: corner.set.yaml
keys:
  - { at: 0 s, axes: { slide: -0.5 } }
#         ^^^ error clearance: rail reaches 20 mm into through at 00:00:00:00 (frame 0); lead the move past at a distance, or move through.
  - { at: 4 s, axes: { slide: 0.5 } }
`);
  });
});

/** A move of one of the rigs past a ball. */
interface Way {
  readonly rig: string;
  readonly from: string;
  readonly to: string;
  readonly ball: readonly [number, number, number];
}

const WAYS: readonly Way[] = [
  { rig: "slider", from: "slide: -0.5, pan: 0, tilt: 0", to: "slide: 0.5", ball: [0.25, 0.1, 1.25] },
  { rig: "crane", from: "swing: 0, lift: 0, pan: 0, tilt: 0", to: "swing: 40, lift: 12", ball: [1.66, 0.6, 1.1] },
  {
    rig: "telescope",
    from: "swing: 0, lift: 0, tube: -0.4, pan: 0, tilt: 0",
    to: "tube: 0.3, swing: 10",
    ball: [2.1, 0.35, 1.05],
  },
];

describe("clearance where nothing is to be kept", () => {
  const documents = (limit: string): ReadonlyMap<string, string> =>
    new Map([
      ["a.camera.yaml", KIT["a.camera.yaml"]],
      [
        "f.rig.yaml",
        `${KIT["slider.rig.yaml"]}bodies: [{ name: foot, on: base, box: [0.2, 0.2, 0.2], at: [0, 0, 0.1] }]\n`,
      ],
      ["o.set.yaml", "set: 1\nobstacles: { ball: { sphere: { radius: 0.1 }, at: [0.1, 0.3, 1.2] } }\n"],
      [
        "m.move.yaml",
        `move: 1
rig: f.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: o.set.yaml
tolerance: { clearance: ${limit} }
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 8 s, axes: { slide: 0.6 } }
`,
      ],
    ]);

  it("tells moving and standing parts apart, at once and after an edit", () => {
    const memo = createMemo();
    const found = (limit: string, kept = createMemo()): readonly string[] =>
      runToEnd(analyse("m.move.yaml", memorySources(documents(limit)), kept))
        .motionFindings.filter(({ code }) => code === "clearance")
        .map(({ message }) => message);
    assert.equal(found("50 mm", memo).length, 1);
    const scratch = found("0 mm");
    assert.equal(scratch.length, 1);
    assert.match(scratch[0], /into ball/);
    assert.deepEqual(found("0 mm", memo), scratch);
  });
});

describe("the amount by which something is too near", () => {
  for (const way of WAYS) {
    const documents = (clearance: number, ball = way.ball): Documents => ({
      ...KIT,
      "m.move.yaml": `move: 1
rig: ${way.rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: ball.set.yaml
tolerance: { clearance: ${clearance}, self-clearance: 0 }
keys:
  - { at: 0 s, axes: { ${way.from} } }
  - { at: 6 s, axes: { ${way.to} } }
`,
      "ball.set.yaml": `set: 1
obstacles: { ball: { sphere: { radius: 0.1 }, at: [${ball.join(", ")}] } }
`,
    });
    const found = (all: Documents) => findingsOfCode(all, "m.move.yaml", "clearance");

    it(`is what the tolerance and the ball have to give way beside the ${way.rig}`, () => {
      const limit = 0.2;
      const [finding, ...rest] = found(documents(limit));
      assert.equal(rest.length, 0);
      assert.ok(finding.segment && finding.value !== undefined && 0 < finding.value);
      const short = limit - finding.value;
      assert.ok(0.01 < short, `${short}`);
      assert.equal(found(documents(limit - short)).length, 0);
      assert.equal(found(documents(limit - 0.9 * short)).length, 1);
      const { from, to } = finding.segment;
      const away = (by: number): Documents =>
        documents(
          limit,
          way.ball.map((part, k) => part + (by * (to[k] - from[k])) / finding.value!) as unknown as Way["ball"],
        );
      assert.equal(found(away(0.9 * short)).length, 1);
      // Farther off along that way the ball is clear of the whole move, as it was nearest there and the way is convex.
      assert.ok(found(away(1.3 * short + 0.01)).length === 0);
    });
  }

  it("offers no change of the text that might not do", () => {
    assertCures(
      {
        ...KIT,
        "m.move.yaml": `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: ball.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
`,
        "ball.set.yaml": "set: 1\nobstacles: { ball: { sphere: { radius: 0.1 }, at: [0.2, 0, 1.2] } }\n",
      },
      "m.move.yaml",
      "clearance",
      0,
    );
  });
});
