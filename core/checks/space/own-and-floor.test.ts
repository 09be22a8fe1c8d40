import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../../base/task.ts";
import { analyse, createMemo } from "../analyse.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("self-clearance", () => {
  it("is found where the camera comes to the foot, not where parts touch by design", () => {
    check(`
#- folding.rig.yaml
rig: 1
chain:
  - { axis: turn, type: rotary, origin: { at: [0, 0, 0.5] }, range: [-170, 170] }
  - { axis: lift, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 0.1] }, range: [-80, 80] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [0.8, 0, 0] }, range: [-120, 120] }
bodies:
  - { name: foot, on: base, cylinder: { radius: 0.2, height: 0.5 }, at: [0, 0, 0.25] }
  - { name: turret, on: turn, box: [0.2, 0.2, 0.2], at: [0, 0, 0.05] }
  - { name: arm, on: lift, box: [0.8, 0.05, 0.05], at: [0.35, 0, 0] }
  - { name: camera-body, on: tilt, box: [0.2, 0.1, 0.1] }
#- m.move.yaml
move: 1
rig: folding.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { clearance: 0 }
keys:
  - { at: 0 s, axes: { turn: 0, lift: 20, tilt: 0 } }
  - { at: 6 s, axes: { turn: 90, lift: -28, tilt: -20 } }
#         ^^^ error self-clearance: foot reaches 30.6 mm into arm at 00:00:06:00 (frame 150), 40.6 mm nearer than the clearance of 10 mm; change key 2 so that they stay apart, or state them under \`touching\` in the rig if they are built to touch.
#         ^^^ warning judder: The far background crosses the delivered picture in 2.13 s at 00:00:02:22 (frame 72) while turn turns at 28.05 deg/s, 4.59 s less than the 6.72 s of common practice at 25 frames a second and a shutter of 180 deg (115.6 px a frame, 36.6 px at most); stretch the 6 s from key 1 to key 2 to about 18.98 s, or hold a subject still in the frame; if it is meant, say \`tolerance: { crossing: .. }\`.
#- stated.rig.yaml
rig: 1
chain:
  - { axis: turn, type: rotary, origin: { at: [0, 0, 0.5] }, range: [-170, 170] }
  - { axis: lift, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 0.1] }, range: [-80, 80] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [0.8, 0, 0] }, range: [-120, 120] }
bodies:
  - { name: foot, on: base, cylinder: { radius: 0.2, height: 0.5 }, at: [0, 0, 0.25] }
  - { name: arm, on: lift, box: [0.8, 0.05, 0.05], at: [0.35, 0, 0] }
touching: [[arm, foot]]
#- stated.move.yaml
move: 1
rig: stated.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { clearance: 0 }
keys:
  - { at: 0 s, axes: { turn: 0, lift: 20, tilt: 0 } }
  - { at: 6 s, axes: { turn: 90, lift: -28, tilt: -20 } }
#         ^^^ warning judder: The far background crosses the delivered picture in 2.13 s at 00:00:02:22 (frame 72) while turn turns at 28.05 deg/s, 4.59 s less than the 6.72 s of common practice at 25 frames a second and a shutter of 180 deg (115.6 px a frame, 36.6 px at most); stretch the 6 s from key 1 to key 2 to about 18.98 s, or hold a subject still in the frame; if it is meant, say \`tolerance: { crossing: .. }\`.
#- misspelt.rig.yaml
rig: 1
chain:
  - { axis: turn, type: rotary }
bodies:
  - { name: foot, on: base, sphere: { radius: 0.2 } }
touching: [[foot, feet]]
#                 ^^^^ error unknown-axis: There is no body \`feet\`. Known: \`foot\`.
`);
  });

  it("is found anew where another tolerance has parts count as close", () => {
    const documents = (limit: string): ReadonlyMap<string, string> =>
      new Map([
        ["a.camera.yaml", KIT["a.camera.yaml"]],
        [
          "cabled.rig.yaml",
          `rig: 1
chain:
  - { axis: turn, type: rotary, origin: { at: [0, 0, 0.5] }, range: [-170, 170] }
  - { axis: lift, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 0.1] }, range: [-80, 80] }
bodies:
  - { name: foot, on: base, cylinder: { radius: 0.2, height: 0.5 }, at: [0, 0, 0.25] }
  - { name: arm, on: lift, box: [0.8, 0.05, 0.05], at: [0.35, 0, 0] }
  - { name: cable, on: turn, sphere: { radius: 0.02 }, at: [0.225, 0, -0.1] }
`,
        ],
        [
          "m.move.yaml",
          `move: 1
rig: cabled.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { clearance: 0, self-clearance: ${limit} }
keys:
  - { at: 0 s, axes: { turn: 0, lift: 20 } }
  - { at: 6 s, axes: { turn: 90, lift: -28 } }
`,
        ],
      ]);
    const memo = createMemo();
    const found = (limit: string, kept = createMemo()): readonly string[] =>
      runToEnd(analyse("m.move.yaml", memorySources(documents(limit)), kept)).motionFindings.map(
        ({ message }) => message,
      );
    found("10 mm", memo);
    const after = found("100 mm", memo);
    assert.deepEqual(after, found("100 mm"));
    assert.ok(after.some((message) => /foot reaches .* into arm/.test(message)));
  });

  it("tells by how much, on three rigs", () => {
    const rigs: readonly (readonly [string, string, string, string, string])[] = [
      ["slider", "slide", "tilt", "slide: 0, pan: 0, tilt: 0", "tilt: -80"],
      ["crane", "swing", "tilt", "swing: 0, lift: 0, pan: 0, tilt: 0", "tilt: -80"],
      ["telescope", "swing", "tilt", "swing: 0, lift: 0, tube: 0, pan: 0, tilt: 0", "tilt: -80"],
    ];
    for (const [rig, low, high, from, to] of rigs) {
      const at = rig === "slider" ? "[0.15, 0, 0.02]" : "[1.68, 0, -0.38]";
      const bodies = `bodies:
  - { name: stay, on: ${low}, box: [0.02, 0.4, 0.02], at: ${at} }
  - { name: hood, on: ${high}, sphere: { radius: 0.02 }, at: [0.2, 0, 0.05] }
`;
      const documents = (limit: number): Documents => ({
        ...KIT,
        "own.rig.yaml": `${KIT[`${rig}.rig.yaml`]}${bodies}`,
        "m.move.yaml": `move: 1
rig: own.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { clearance: 0, self-clearance: ${limit} }
keys:
  - { at: 0 s, axes: { ${from} } }
  - { at: 6 s, axes: { ${to} } }
`,
      });
      const found = (limit: number) =>
        findingsOfCode(documents(limit), "m.move.yaml", "self-clearance").filter(({ message }) =>
          message.includes("hood"),
        );
      const [finding] = found(0.06);
      assert.ok(finding?.value !== undefined && 0 < finding.value, `${rig}: ${finding?.message}`);
      const short = 0.06 - finding.value;
      assert.equal(found(0.06 - short).length, 0, rig);
      assert.equal(found(0.06 - 0.9 * short).length, 1, rig);
    }
  });
});

describe("floor", () => {
  it("is found where an arm comes down, and where a wheel is stated lower than the floor", () => {
    check(`
#- low.rig.yaml
rig: 1
chain:
  - { axis: dolly, type: linear, along: [1, 0, 0], range: [0, 2] }
  - { axis: lift, type: rotary, along: [0, -1, 0], origin: { at: [0, 0, 0.6] }, range: [-60, 60] }
bodies:
  - { name: rail, on: base, box: [3, 0.1, 0.1], at: [1, 0, 0] }
  - { name: wheel, on: dolly, cylinder: { radius: 0.1, height: 0.4 }, at: [0, 0, 0.08], turn: [90, 0, 0] }
  - { name: arm, on: lift, box: [1, 0.06, 0.06], at: [0.5, 0, 0] }
camera-mount: { at: [1, 0, 0.1], turn: [0, -60, 0] } # looks up, away from arm and rail
#- m.move.yaml
move: 1
rig: low.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { dolly: 0, lift: 0 } }
#         ^^^ error floor: wheel reaches 20 mm below the floor that the rig stands on; raise what carries it by 20 mm, or correct its size.
  - { at: 6 s, axes: { dolly: 1, lift: -32 } }
#         ^^^ error self-clearance: rail reaches 5.4 mm into arm at 00:00:06:00 (frame 150), 15.4 mm nearer than the clearance of 10 mm; change key 2 so that they stay apart, or state them under \`touching\` in the rig if they are built to touch.
#         ^^^ error floor: arm is 44.6 mm above the floor at 00:00:06:00 (frame 150), 5.4 mm nearer than the clearance of 50 mm; keep the camera or the arm higher at key 2.
  - { at: 12 s, axes: { dolly: 1, lift: 0 } }
#- deep.move.yaml
move: 1
rig: low.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
place: { at: [0, 0], lean: [0, 2] }
keys:
  - { at: 0 s, axes: { dolly: 0, lift: 0 } }
#         ^^^ error floor: wheel reaches 20 mm below the floor that the rig stands on; raise what carries it by 20 mm, or correct its size.
  - { at: 6 s, axes: { dolly: 1, lift: -40 } }
#         ^^^ error self-clearance: rail reaches 80 mm into arm at 00:00:04:19 (frame 119), 90 mm nearer than the clearance of 10 mm; change key 2 so that they stay apart, or state them under \`touching\` in the rig if they are built to touch.
#         ^^^ error self-clearance: rail reaches 31.2 mm into the camera at 00:00:06:00 (frame 150), 41.2 mm nearer than the clearance of 10 mm; change key 2 so that they stay apart, or state them under \`touching\` in the rig if they are built to touch.
#         ^^^ error floor: arm reaches 0.1267 m below the floor at 00:00:06:00 (frame 150), 0.1767 m nearer than the clearance of 50 mm; keep the camera or the arm higher at key 2.
#         ^^^ error in-view: rail is in the picture at 00:00:05:24 (frame 149): it reaches 230.3 px in from the bottom edge; change the pose at key 2 so that it leaves the view, or take a longer lens.
#         ^^^ warning judder: The far background crosses the delivered picture in 5.9 s at 00:00:03:00 (frame 75) while lift turns at 12.5 deg/s, 0.821 s less than the 6.72 s of common practice at 25 frames a second and a shutter of 180 deg (41.7 px a frame, 36.6 px at most); stretch the 6 s from key 1 to key 2 to about 6.84 s, or hold a subject still in the frame; if it is meant, say \`tolerance: { crossing: .. }\`.
`);
  });

  it("tells by how much, on three rigs", () => {
    const rigs = {
      slider: ["slide: 0, pan: 0, tilt: 0", "slide: 0.4, tilt: -60", "tilt", "[0.95, 0, 0]"],
      crane: ["swing: 0, lift: 0, pan: 0, tilt: 0", "swing: 10, lift: -20", "pan", "[0, 0, -0.55]"],
      telescope: ["swing: 0, lift: 0, tube: 0, pan: 0, tilt: 0", "swing: 10, lift: -20", "pan", "[0, 0, -0.5]"],
    };
    for (const [rig, [from, to, link, at]] of Object.entries(rigs)) {
      const documents = (limit: number): Documents => ({
        ...KIT,
        "hung.rig.yaml": `${KIT[`${rig}.rig.yaml`]}bodies: [{ name: foot, on: ${link}, sphere: { radius: 0.1 }, at: ${at} }]\n`,
        "m.move.yaml": `move: 1
rig: hung.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { clearance: ${limit} }
keys:
  - { at: 0 s, axes: { ${from} } }
  - { at: 6 s, axes: { ${to} } }
`,
      });
      const found = (limit: number) => findingsOfCode(documents(limit), "m.move.yaml", "floor");
      const [finding] = found(0.3);
      assert.ok(finding?.value !== undefined && 0 < finding.value, `${rig}: ${finding?.message}`);
      const short = 0.3 - finding.value;
      assert.equal(found(0.3 - short).length, 0, rig);
      assert.equal(found(0.3 - 0.9 * short).length, 1, rig);
    }
  });
});
