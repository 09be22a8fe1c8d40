import assert from "node:assert/strict";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../../base/task.ts";
import { analyse, createMemo } from "../analyse.ts";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { assertCures, findingsOfCode } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

describe("the way back of a take", () => {
  it("has nothing of its own to say where it is the take reversed", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { speed: 100 % }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { slide: 1.05 }
#                  ^^^^ error axis-range: slide reaches 1.05 m at 00:00:02:00 (frame 50), 50 mm beyond the high end of its range, 1 m; key it within -1 m to 1 m.
#                  ^^^^ error axis-speed: slide moves at 0.984 m/s at 00:00:01:00 (frame 25), 97 % above its limit of 0.5 m/s; stretch the 2 s from key 1 to key 2 to about 3.94 s, or raise the limit.
#                  ^^^^ error axis-accel: slide accelerates at 1.52 m/s2 at 00:00:00:11 (frame 11), 52 % above its limit of 1 m/s2; stretch the 2 s from key 1 to key 2 to about 2.47 s, or raise the limit.
#                  ^^^^ error axis-accel: slide accelerates at 1.52 m/s2 at 00:00:01:14 (frame 39), 52 % above its limit of 1 m/s2; stretch the 2 s from key 1 to key 2 to about 2.47 s, or raise the limit.
#                  ^^^^ information near-limit: slide uses 98 % of its jerk limit at 00:00:02:00 (frame 50): 7.88 m/s3 of 8 m/s3.
`);
  });

  it("is told where its time is too short", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { time: 2 s }
#               ^^^ error axis-speed: slide moves at 0.75 m/s on the way back, 1 s after it begins, 50 % above its limit of 0.5 m/s; stretch the 2 s from right to key 1 to about 3 s, or raise the limit.
#               ^^^ error axis-accel: slide accelerates at 1.15 m/s2 on the way back, 0.423 s after it begins, 15 % above its limit of 1 m/s2; stretch the 2 s from right to key 1 to about 2.15 s, or raise the limit.
#               ^^^ error axis-accel: slide accelerates at 1.15 m/s2 on the way back, 1.58 s after it begins, 15 % above its limit of 1 m/s2; stretch the 2 s from right to key 1 to about 2.15 s, or raise the limit.
keys:
  - at: 0 s
    axes: { slide: -0.4, pan: 0, tilt: 0 }
  - at: 4 s
    name: right
    axes: { slide: 0.4 }
`);
  });

  it("holds in a time that is long enough: 1.875 x 0.8 m / 3.1 s is 0.484 m/s", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { time: 3.1 s }
keys:
  - at: 0 s
    axes: { slide: -0.4, pan: 0, tilt: 0 }
  - at: 4 s
    axes: { slide: 0.4 }
`);
  });

  it("is told where it leaves a range, at what leads it there", () => {
    check(`
#- m.move.yaml
move: 1
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return:
  time: 30 s
  via:
    - { at: 50 %, axes: { lift: 45 } }
#                               ^^ error axis-range: level reaches -45 deg on the way back, 15 s after it begins, 5 deg beyond the low end of its range, -40 deg; it follows lift: keep that where level stays within -40 deg to 40 deg.
keys:
  - at: 0 s
    axes: { swing: 0, lift: 0, pan: 0, tilt: 0 }
  - at: 10 s
    axes: { swing: 20 }
`);
  });

  it("is not told what the take says of the same place", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
return: { time: 30 s }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 20 s
    axes: { slide: 1.05 }
#                  ^^^^ error axis-range: slide reaches 1.05 m at 00:00:20:00 (frame 500), 50 mm beyond the high end of its range, 1 m; key it within -1 m to 1 m.
`);
  });

  it("is told where it goes through people that the take goes round", () => {
    check(`
#- m.move.yaml
move: 1
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
tolerance: { crossing: 1 s }
return: { time: 20 s }
#               ^^^^ error people: the camera reaches 0.1494 m into potter on the way back, 9.74 s after it begins, 0.1994 m nearer than the clearance of 50 mm; lead the move past at a distance, or have potter stand elsewhere. This is arithmetic on a plan, no assessment of safety: follow the rig's manual, local rules and the person responsible on set.
keys:
  - at: 0 s
    axes: { swing: -40, lift: 0, pan: 0, tilt: 0 }
  - at: 10 s
    axes: { swing: 0, lift: 40 }
  - at: 20 s
    axes: { swing: 40, lift: 0 }
#- studio.set.yaml
set: 1
people:
  potter: { cylinder: { radius: 0.2, height: 1.4 }, at: [1.5, 0, 0.7] }
`);
  });

  it("is told where it comes too near to what stands in the set, and to the floor", () => {
    check(`
#- m.move.yaml
move: 1
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
tolerance: { crossing: 1 s }
return: { time: 20 s }
#               ^^^^ error clearance: the camera reaches 10 mm into plinth on the way back, 10.62 s after it begins, 60 mm nearer than the clearance of 50 mm; lead the move past at a distance, or move plinth.
keys:
  - at: 0 s
    axes: { swing: -40, lift: 0, pan: 0, tilt: 0 }
  - at: 10 s
    axes: { swing: 0, lift: 40 }
  - at: 20 s
    axes: { swing: 40, lift: 0 }
#- low.move.yaml
move: 1
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { crossing: 1 s, clearance: 100 mm }
return:
  time: 40 s
  via:
    - at: 50 %
#         ^^^^ error floor: the camera is 85.8 mm above the floor on the way back, 20 s after it begins, 14.2 mm nearer than the clearance of 0.1 m; keep the camera or the arm higher at \`via\` 1 of \`return\`.
      axes: { lift: -40 }
keys:
  - at: 0 s
    axes: { swing: -40, lift: 0, pan: 0, tilt: 0 }
  - at: 20 s
    axes: { swing: 40, lift: 0 }
#- studio.set.yaml
set: 1
obstacles:
  plinth: { box: [0.3, 0.3, 1.1], at: [1.5, 0, 0.55] }
floor: 0.04
`);
  });

  it("is told where it is fast beside people", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
return: { time: 4 s }
#               ^^^ warning people: A point of the camera moves at 0.375 m/s on the way back, 2 s after it begins, 0.51 m from potter, 50 % above the reduced speed of ISO 10218-1 (0.25 m/s within 0.85 m of people); let the way back take 6 s, or have potter stand elsewhere. This is arithmetic on a plan, no assessment of safety: follow the rig's manual, local rules and the person responsible on set.
keys:
  - at: 0 s
    axes: { slide: -0.4, pan: 0, tilt: 0 }
  - at: 8 s
    axes: { slide: 0.4 }
#- studio.set.yaml
set: 1
people:
  potter: { cylinder: { radius: 0.3, height: 1.75 }, at: [0.9, 0, 0.875] }
`);
  });
});

describe("the way back after an edit", () => {
  const text = (time: string, to: number, clearance: string): string => `move: 1
rig: crane.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: studio.set.yaml
tolerance: { crossing: 1 s, clearance: ${clearance} }
return: { time: ${time}, via: [{ at: 40 %, axes: { lift: 10 } }] }
keys:
  - { at: 0 s, axes: { swing: -40, lift: 0, pan: 0, tilt: 0 } }
  - { at: 10 s, axes: { swing: 0, lift: 40 } }
  - { at: 20 s, axes: { swing: ${to}, lift: 0 } }
`;
  const set = `set: 1
people: { potter: { cylinder: { radius: 0.2, height: 1.4 }, at: [1.5, 0, 0.7] } }
obstacles: { plinth: { box: [0.3, 0.3, 1.1], at: [1.2, 1, 0.55] } }
`;

  it("is found as if it were looked at for the first time", () => {
    const memo = createMemo();
    const edits = [
      text("20 s", 40, "50 mm"),
      text("4 s", 40, "50 mm"),
      text("4 s", 40, "5 mm"),
      text("4 s", 60, "5 mm"),
      text("20 s", 40, "50 mm"),
    ];
    const all = edits.map((move) => {
      const sources = memorySources(new Map(Object.entries({ ...KIT, "studio.set.yaml": set, "m.move.yaml": move })));
      const kept = runToEnd(analyse("m.move.yaml", sources, memo)).motionFindings;
      assert.deepEqual(kept, runToEnd(analyse("m.move.yaml", sources)).motionFindings);
      return kept.map(({ code, message }) => `${code} ${message}`);
    });
    assert.deepEqual(all[0], all[4]);
    assert.ok(all[0].some((one) => one.includes("on the way back")));
    assert.notDeepEqual(all[1], all[2]);
  });
});

describe("cures of the way back", () => {
  const move = (rig: string, more: string, keys: string): Record<string, string> => ({
    ...KIT,
    "m.move.yaml": `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { crossing: 1 s }
${more}keys:
${keys}`,
  });

  for (const [rig, from, to] of [
    ["slider", "slide: -0.4, pan: 0, tilt: 0", "slide: 0.4, pan: 30"],
    ["crane", "swing: -30, lift: 0, pan: 0, tilt: 0", "swing: 20, lift: 20"],
    ["telescope", "swing: 0, lift: 0, tube: -0.5, pan: 0, tilt: 0", "swing: 20, tube: 0.5"],
  ]) {
    const keys = `  - { at: 0 s, axes: { ${from} } }\n  - { at: 20 s, axes: { ${to} } }\n`;

    it(`keep every limit of the ${rig} in the time that they set`, () => {
      const documents = move(rig, "return: { time: 1.5 s, via: [{ at: 40 %, axes: { pan: 60 } }] }\n", keys);
      for (const code of ["axis-speed", "axis-accel", "axis-jerk"] as const)
        assertCures(documents, "m.move.yaml", code);
    });

    it(`state how much more time the ${rig} needs`, () => {
      const codes = ["axis-speed", "axis-accel", "axis-jerk"] as const;
      const count = (time: number): number => {
        const documents = move(rig, `return: { time: ${time} s }\n`, keys);
        return codes.reduce((sum, code) => sum + findingsOfCode(documents, "m.move.yaml", code).length, 0);
      };
      const [first] = findingsOfCode(move(rig, "return: { time: 1 s }\n", keys), "m.move.yaml", "axis-speed");
      const told = Number(/to ([\d.]+) s/.exec(first.cures[0].title)?.[1]);
      assert.equal(count(told), 0);
      assert.notEqual(count(1 + 0.9 * (told - 1)), 0, "nine tenths of it do not do");
    });
  }

  it("keep a rig on its feet", () => {
    const masses = "masses: [{ on: base, at: [0, 0, 0.5], mass: 20 kg }, { on: slide, at: [0, 0, 0.1], mass: 6 kg }]\n";
    const support = "support: { corners: [[-0.4, 0.4], [0.4, 0.4], [0.4, -0.4], [-0.4, -0.4]], margin: 60 % }\n";
    const keys = "  - { at: 0 s, axes: { slide: -0.4, pan: 0, tilt: 0 } }\n  - { at: 20 s, axes: { slide: 0.4 } }\n";
    const documents = move("slider", "return: { time: 1.2 s }\n", keys);
    const heavy = { ...documents, "slider.rig.yaml": `${KIT["slider.rig.yaml"]}${masses}${support}` };
    assertCures(heavy, "m.move.yaml", "tip-over");
  });

  it("slow it down beside people", () => {
    const set = "set: 1\npeople: { potter: { sphere: { radius: 0.3 }, at: [0.9, 0, 1.2] } }\n";
    const keys = "  - { at: 0 s, axes: { slide: -0.4, pan: 0, tilt: 0 } }\n  - { at: 12 s, axes: { slide: 0.4 } }\n";
    const documents = move("slider", "set: studio.set.yaml\nreturn: { time: 4 s }\n", keys);
    assertCures({ ...documents, "studio.set.yaml": set }, "m.move.yaml", "people");
  });
});
