import assert from "node:assert/strict";
import type { PlacedFinding } from "../finding.ts";
import { findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

/** Rigs with what their keys start and end at, in front of the lid. */
const RIGS = [
  { rig: "slider", first: "slide: 0", last: "slide: 0.1" },
  { rig: "crane", first: "swing: 0, lift: 0", last: "swing: 5, lift: 2" },
  { rig: "telescope", first: "swing: 0, lift: 0, tube: 0", last: "swing: 5, lift: 2, tube: -0.05" },
];

/** 90 deg a dioptre and 20 deg a stop, evenly, and 2 deg a millimetre: what a rack takes can be reckoned by hand. */
const SCALES = {
  focus: "[[infinity, 0 deg], [1 m, 90 deg], [0.25 m, 360 deg]]",
  iris: "[[2, 0 deg], [32, 160 deg]]",
  zoom: "[[24 mm, 0 deg], [70 mm, 92 deg]]",
};
type Motor = keyof typeof SCALES;

function documents(rig: string, motor: Motor, limits: string, keys: string): Documents {
  return {
    ...KIT,
    "lens.camera.yaml": `camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm, coc: 0.03 mm }
lenses:
  pulled: { focal: [24 mm, 70 mm], iris: 2, pupil: 50 mm, motors: { ${motor}: { limits: { ${limits} }, scale: ${SCALES[motor]} } } }
`,
    "m.move.yaml": `move: 1
rig: ${rig}.rig.yaml
camera: { use: lens.camera.yaml, lens: pulled }
set: table.set.yaml
keys:
${keys}`,
  };
}

const found = (docs: Documents): readonly PlacedFinding[] => findingsOfCode(docs, "m.move.yaml", "focus-speed");

const PULLS: Readonly<Record<Motor, readonly [string, string]>> = {
  focus: ["focus: 1 m", "focus: lid"],
  iris: ["iris: 2", "iris: 11"],
  zoom: ["zoom: 24 mm", "zoom: 70 mm"],
};

/** Each limit so low that a pull within a second breaks it. */
const LIMITS = { speed: 30, accel: 90, jerk: 500 } as const;
const UNITS = { speed: "deg/s", accel: "deg/s2", jerk: "deg/s3" } as const;

describe("what focus-speed states", () => {
  for (const { rig, first, last } of RIGS) {
    for (const motor of ["focus", "iris", "zoom"] as const) {
      for (const limit of ["speed", "accel", "jerk"] as const) {
        it(`is by how much the ${limit} of the ${motor} motor is too high on the ${rig}`, () => {
          const keys = `  - { at: 0 s, axes: { ${first} }, aim: lid, ${PULLS[motor][0]} }
  - { at: 1.3 s, axes: { ${last} }, ${PULLS[motor][1]} }
`;
          const at = (value: number): readonly PlacedFinding[] =>
            found(documents(rig, motor, `${limit}: ${value} ${UNITS[limit]}`, keys));
          const findings = at(LIMITS[limit]);
          assert.ok(0 < findings.length);
          const worst = Math.max(...findings.map(({ value = 0 }) => value));
          const more = worst - LIMITS[limit];
          assert.ok(0 < more, `${worst}`);
          assert.ok(findings.every((one) => one.unit === UNITS[limit] && one.limit === LIMITS[limit]));
          assert.deepEqual(at(LIMITS[limit] + more * (1 + 1e-9)), []);
          assert.notEqual(at(LIMITS[limit] + 0.9 * more).length, 0);
        });
      }
    }
  }

  // Flash & Hogan 1985: from rest to rest a least-jerk quintic peaks at 15/8 of the mean speed, at 10/√3 · way / T²
  // and at 60 · way / T³.
  it("is what a least-jerk pull takes: 92 deg of a zoom in 2 s", () => {
    const peaks = { speed: (15 / 8) * (92 / 2), accel: (10 / Math.sqrt(3)) * (92 / 4), jerk: 60 * (92 / 8) };
    const keys = `  - { at: 0 s, axes: { slide: 0 }, aim: lid, zoom: 24 mm }
  - { at: 2 s, zoom: 70 mm }
`;
    for (const limit of ["speed", "accel", "jerk"] as const) {
      const findings = found(documents("slider", "zoom", `${limit}: 1`, keys));
      const worst = Math.max(...findings.map(({ value = 0 }) => value));
      assert.ok(Math.abs(worst / peaks[limit] - 1) < 1e-7, `${limit}: ${worst}, ${peaks[limit]}`);
    }
  });

  // d(t) = a + (b - a) s(t): the motor's speed is 90 deg · |b - a| s' / d², at its most where that is, found here by a
  // dense search over the quintic alone.
  it("is what a rack between two set distances takes, on a scale even over one over the distance", () => {
    const keys = `  - { at: 0 s, axes: { slide: 0 }, aim: lid, focus: 3 m }
  - { at: 1.5 s, focus: 0.6 m }
`;
    let most = 0;
    for (let n = 0; n <= 200_000; n++) {
      const t = n / 200_000;
      const share = t * t * t * (10 + t * (-15 + 6 * t));
      const rate = (30 * t * t * (1 + t * (t - 2))) / 1.5;
      most = Math.max(most, (90 * 2.4 * rate) / (3 - 2.4 * share) ** 2);
    }
    const worst = Math.max(...found(documents("slider", "focus", "speed: 10", keys)).map(({ value = 0 }) => value));
    assert.ok(Math.abs(worst / most - 1) < 1e-7, `${worst}, ${most}`);
  });

  // At 0.5 m/s a subject straight ahead at 2 m takes 90 deg · 0.5 / 2² of the scale a second: 11.25 deg/s.
  it("is what following a subject takes that comes straight on", () => {
    const docs = documents("slider", "focus", "speed: 1", "  - { at: 0 s, axes: { slide: 0 }, aim: cup, focus: cup }\n  - { at: 4 s, axes: { slide: 0 } }\n"); // prettier-ignore
    // The sensor is 0.04 - 0.044 m from the axis of the slide, at the height of the flange.
    const course = (at: number, x: number): string => `{ at: ${at} s, to: [${x - 0.004}, 0, 1.2] }`;
    const set = `set: 1\ntargets:\n  cup: { follow: [${course(0, 3)}, ${course(4, 1)}] }\n`;
    const [finding] = found({ ...docs, "table.set.yaml": set });
    let most = 0;
    for (let n = 0; n <= 100_000; n++) {
      const t = n / 100_000;
      const share = t * t * t * (10 + t * (-15 + 6 * t));
      const rate = (30 * t * t * (1 + t * (t - 2))) / 4;
      most = Math.max(most, (90 * 2 * rate) / (3 - 2 * share) ** 2);
    }
    assert.ok(Math.abs((finding.value ?? 0) / most - 1) < 1e-7, `${finding.value}, ${most}`);
  });
});
