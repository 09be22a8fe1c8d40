import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { RATES } from "../../base/rate.ts";
import { leastCrossing } from "./pan-rule.ts";
import { seemingTurn } from "./strobing.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

const DEG = Math.PI / 180;

describe("the rule for pans", () => {
  it("is 7 s at 24 frames a second and 180 deg, and 168 frames at any rate", () => {
    // One frame width in 7 s at 24 frames a second: red.com/red-101/camera-panning-speed and Sony support 00342875.
    assert.equal(leastCrossing(RATES["24"], Math.PI), 7);
    assert.ok(Math.abs(leastCrossing(RATES["25"], Math.PI) - 168 / 25) < 1e-12);
    assert.ok(Math.abs(leastCrossing(RATES["23.976"], Math.PI) - (168 * 1001) / 24000) < 1e-12);
    assert.ok(Math.abs(leastCrossing(RATES["59.94df"], Math.PI) - (168 * 1001) / 60000) < 1e-12);
  });

  it("keeps the gap that blur leaves of a step with another shutter, and half of the time at least", () => {
    // 90 deg fills a quarter of the step, 180 deg a half: the gap is half as wide again (common practice, no source).
    assert.ok(Math.abs(leastCrossing(RATES["24"], Math.PI / 2) - 10.5) < 1e-12);
    assert.equal(leastCrossing(RATES["24"], 2 * Math.PI), 3.5);
  });
});

/** A 35 mm lens on 25.34 mm and 3840 px: the field of view is 39.8005 deg, so that the rule is 5.6858 deg/s. */
const PUBLISHED = `camera: 1
body: { sensor: [25.34 mm, 14.254 mm], resolution: [3840, 2160], flange: 44 mm }
lenses:
  normal: { focal: 35 mm, pupil: 0 mm }
`;

/** A pan at constant speed between ramps; the speed is that of the way less one ramp's time. */
const evenPan = (speed: number): string => `move: 1
rig: slider.rig.yaml
camera: { use: published.camera.yaml, lens: normal }
rate: 24
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 5 s, axes: { pan: ${4 * speed} }, ease: { linear: { ramp: 1 s } } }
`;

describe("judder of a pan", () => {
  it("begins at the published 5.6858 deg/s for a field of view of 39.8005 deg at 24 frames a second", () => {
    const found = (speed: number) =>
      findingsOfCode(
        { ...KIT, "published.camera.yaml": PUBLISHED, "m.move.yaml": evenPan(speed) },
        "m.move.yaml",
        "judder",
      );
    assert.deepEqual(found(5.685), []);
    const [finding] = found(5.687);
    assert.ok(finding.value !== undefined && Math.abs(finding.value - 7 * (5.6858 / 5.687)) < 1e-4, `${finding.value}`);
    assert.equal(finding.limit, 7);
    assert.match(finding.message, /22\.9 px a frame, 22\.9 px at most/);
  });

  it("is found where nothing is looked at: the far background passes", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 3 s, name: left, axes: { pan: 20 } }
#         ^^^ warning judder: The far background crosses the delivered picture in 5.9 s at 00:00:01:13 (frame 38) while pan turns at 12.5 deg/s, 0.821 s less than the 6.72 s of common practice at 25 frames a second and a shutter of 180 deg (41.7 px a frame, 36.6 px at most); stretch the 3 s from key 1 to left to about 3.42 s, or hold a subject still in the frame; if it is meant, say \`tolerance: { crossing: .. }\`.
`);
  });

  it("is silent just below", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 3 s, name: left, axes: { pan: 17.4 } }
`);
  });

  it("is found for the delivered width, by the shutter and the rate", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: quick.camera.yaml, lens: wide }
rate: 50
deliver: [3072, 1728]
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 3 s, name: up, axes: { tilt: 14 } }
#         ^^^ warning judder: The far background crosses the delivered picture in 4.7 s at 00:00:01:25 (frame 75) while tilt turns at 8.75 deg/s, 0.341 s less than the 5.04 s of common practice at 50 frames a second and a shutter of 90 deg (13.1 px a frame, 12.2 px at most); stretch the 3 s from key 1 to up to about 3.22 s, or hold a subject still in the frame; if it is meant, say \`tolerance: { crossing: .. }\`.
#- quick.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  wide: { focal: 24 mm, pupil: 50 mm }
shutter: 90 deg
`);
  });
});

describe("judder of what is looked at", () => {
  it("does not count a background that rushes by behind a subject that is held still", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: -0.8 }, aim: lid, focus: lid }
  - { at: 7 s, axes: { slide: 0.8 } }
`);
  });

  it("is found where the subject's framing goes too fast", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: { at: lid, framing: [0.3, 0.5] } }
  - { at: 2.5 s, name: over, axes: { slide: 0 }, aim: { framing: [0.7, 0.5] } }
#         ^^^^^ warning judder: lid crosses the delivered picture in 3.33 s at 00:00:01:06 (frame 31) while pan turns at 24.62 deg/s, 3.39 s less than the 6.72 s of common practice at 25 frames a second and a shutter of 180 deg (73.7 px a frame, 36.6 px at most); stretch the 2.5 s from key 1 to over to about 5.04 s, or hold a subject still in the frame; if it is meant, say \`tolerance: { crossing: .. }\`.
`);
  });

  it("is found in a change of aim, where neither subject is held", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: far.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: left }
  - { at: 4 s, name: over, axes: { slide: 0 }, aim: right }
#         ^^^ warning judder: left crosses the delivered picture in 6.29 s at 00:00:02:00 (frame 50) while pan turns at 12.55 deg/s, 0.432 s less than the 6.72 s of common practice at 25 frames a second and a shutter of 180 deg (39.1 px a frame, 36.6 px at most); stretch the 4 s from key 1 to over to about 4.28 s, or hold a subject still in the frame; if it is meant, say \`tolerance: { crossing: .. }\`.
#- far.set.yaml
set: 1
targets:
  left: { at: [3, 0.7, 1.2] }
  right: { at: [3, -0.7, 1.2] }
`);
  });

  it("is not found where the move says that it is meant", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: far.set.yaml
tolerance: { crossing: 2 s }
keys:
  - { at: 0 s, axes: { slide: 0 }, aim: left }
  - { at: 4 s, name: over, axes: { slide: 0 }, aim: right }
#- far.set.yaml
set: 1
targets:
  left: { at: [3, 0.7, 1.2] }
  right: { at: [3, -0.7, 1.2] }
`);
  });

  it("is found for what is focused on where nothing is aimed at", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: -0.3, pan: 0, tilt: 0 }, focus: lid }
  - { at: 2.4 s, name: past, axes: { slide: 0.3 } }
#         ^^^^^ warning judder: lid crosses the delivered picture in 6.11 s at 00:00:01:05 (frame 30) while slide moves at 0.4688 m/s, 0.608 s less than the 6.72 s of common practice at 25 frames a second and a shutter of 180 deg (40.2 px a frame, 36.6 px at most); stretch the 2.4 s from key 1 to past to about 2.64 s, or hold a subject still in the frame; if it is meant, say \`tolerance: { crossing: .. }\`.
#                                           ^^^ information near-limit: slide uses 94 % of its speed limit at 00:00:01:05 (frame 30): 0.469 m/s of 0.5 m/s.
`);
  });

  it("counts a turntable's turn at the target that stands on it", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: long }
set: turning.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: -3, plate: -60 }, focus: handle }
  - { at: 6 s, name: round, axes: { plate: 60 } }
#         ^^^ warning judder: handle crosses the delivered picture in 5.5 s at 00:00:03:00 (frame 75) while plate turns at 37.5 deg/s, 1.22 s less than the 6.72 s of common practice at 25 frames a second and a shutter of 180 deg (44.7 px a frame, 36.6 px at most); stretch the 6 s from key 1 to round to about 7.33 s, or hold a subject still in the frame; if it is meant, say \`tolerance: { crossing: .. }\`.
#- turning.set.yaml
set: 1
targets:
  handle: { at: [-0.2, 0, 0.1], on: plate }
turntables:
  plate: { at: [2, 0, 1], limits: { speed: 60 } }
`);
  });
});

/** Each rig pans and tilts by its own head; the others of its axes stand. */
const RIGS: Readonly<Record<string, string>> = {
  slider: "slide: 0, tilt: 0",
  crane: "swing: 0, lift: 0, tilt: 0",
  telescope: "swing: 0, lift: 0, tube: 0, tilt: 0",
};

const panOf = (rig: string, seconds: number): Documents => ({
  ...KIT,
  "m.move.yaml": `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { ${RIGS[rig]}, pan: -12 } }
  - { at: ${seconds} s, axes: { pan: 12 } }
`,
});

describe("the time by which judder fails", () => {
  for (const rig of Object.keys(RIGS)) {
    it(`is right on the ${rig}: stretched by it the finding goes, by 90 % of it stays`, () => {
      const found = (seconds: number) => findingsOfCode(panOf(rig, seconds), "m.move.yaml", "judder");
      const [{ value = NaN, limit = NaN, message, axis }] = found(2);
      assert.equal(axis, "pan");
      // 24 deg in 2 s, 1.875 times the mean in the middle, over an angle of view of 2 atan(18 / 24).
      const crossing = (2 * Math.atan(18 / 24)) / DEG / ((1.875 * 24) / 2);
      assert.ok(Math.abs(value - crossing) < 1e-6, `${value} is not ${crossing}`);
      assert.ok(Math.abs(limit - 6.72) < 1e-12);
      const need = limit / value - 1;
      assert.deepEqual(found(2 * (1 + need * 1.0001)), []);
      assert.equal(found(2 * (1 + need * 0.9)).length, 1);
      assert.match(
        message,
        new RegExp(`stretch the 2 s from key 1 to key 2 to about ${(Math.ceil(200 * (1 + need)) / 100).toFixed(2)} s`),
      );
    });
  }
});

describe("strobing of what repeats on a turntable", () => {
  it("is found from half of its repeat a frame on: 24 marks are 15 deg apart, 187.5 deg/s at 25 frames a second", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: wheel.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0, wheel: 0 } }
  - { at: 4 s, name: once, axes: { wheel: 420 } }
#                                         ^^^ warning judder: What repeats 24 times round wheel goes on by 0.52 steps a frame at 00:00:02:00 (frame 50), as wheel turns at 196.9 deg/s: from half a step on frames cannot tell which way, and it seems to turn backwards at 178.13 deg/s; keep wheel below 187.5 deg/s: stretch the 4 s from key 1 to once to about 4.2 s.
#- wheel.set.yaml
set: 1
turntables:
  wheel: { at: [2, 0, 1], repeats: 24 }
`);
  });

  it("is not found just below", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: wheel.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0, wheel: 0 } }
  - { at: 4 s, name: once, axes: { wheel: 399 } }
#- wheel.set.yaml
set: 1
turntables:
  wheel: { at: [2, 0, 1], repeats: 24 }
`);
  });

  it("says when it seems to stand, and that which does not repeat is not judged", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: wheel.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0, wheel: 0, plain: 0 } }
  - { at: 4 s, name: once, axes: { wheel: 120, plain: 120 }, ease: { linear: { ramp: 1 s } } }
#                                         ^^^ warning judder: What repeats 225 times round wheel goes on by 1 steps a frame at 00:00:01:00 (frame 25), as wheel turns at 40 deg/s: from half a step on frames cannot tell which way, and it seems to stand; keep wheel below 20 deg/s: stretch the 4 s from key 1 to once to about 8 s.
#- wheel.set.yaml
set: 1
turntables:
  wheel: { at: [2, 0, 1], repeats: 225 }
  plain: { at: [2, 0, 2] }
`);
  });

  it("seems to turn as sampling folds it: by the sampling theorem what is left of the nearest whole number", () => {
    assert.deepEqual([0, 0.25, 0.75, 1, 1.25, 2.5].map(seemingTurn), [0, 0.25, -0.25, 0, 0.25, -0.5]);
  });

  for (const count of [6, 36, 100]) {
    it(`is right by its amount with ${count} repeats: slower by it the finding goes, by 90 % of it stays`, () => {
      const found = (seconds: number) =>
        findingsOfCode(
          {
            ...KIT,
            "wheel.set.yaml": `set: 1\nturntables:\n  wheel: { at: [2, 0, 1], repeats: ${count} }\n`,
            "m.move.yaml": `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: wheel.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0, wheel: 0 } }
  - { at: ${seconds} s, axes: { wheel: 720 } }
`,
          },
          "m.move.yaml",
          "judder",
        );
      const [{ value = NaN, limit = NaN }] = found(0.5);
      // 720 deg in 0.5 s, 1.875 times the mean in the middle; half of 360 deg over the count, 25 times a second.
      assert.ok(Math.abs(value - 1.875 * 1440) < 1e-6 && Math.abs(limit - (180 / count) * 25) < 1e-9);
      const need = value / limit - 1;
      assert.deepEqual(found(0.5 * (1 + need * 1.0001)), []);
      assert.equal(found(0.5 * (1 + need * 0.9)).length, 1);
    });
  }
});
