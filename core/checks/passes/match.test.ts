import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { assertCures, findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

/** The rig of the kit with `repeat` beside the limits of some axes. */
function rigWith(rig: string, repeat: Readonly<Record<string, string>>): string {
  return KIT[`${rig}.rig.yaml`].replace(/(axis: (\w+), .*)\}$/gm, (line, start: string, axis: string) =>
    repeat[axis] === undefined ? line : `${start}, repeat: ${repeat[axis]} }`,
  );
}

const SLIDER = rigWith("slider", {
  slide: "{ sigma: 0.05 mm, slip: 0.1 mm/m, backlash: 1 mm }",
  pan: "{ sigma: 0.002 deg }",
  tilt: "{ sigma: 0.002 deg }",
});

const check = (fixture: string): void =>
  checkFindings(fixture, { beside: { ...KIT, "slider.rig.yaml": SLIDER, "plain.rig.yaml": KIT["slider.rig.yaml"] } });

// The slide goes 0.8 m there and 0.8 m back in each pass, and so slips by 0.16 mm. In the middle the lid is 1.81 m before
// the pupil along the view: 24/36 · 6144 px · 0.16 mm / 1.81 m = 0.362 px a pass, 1.087 px for nine of them; with √2 · 0.113 px
// of the slide and √2 · 0.143 px · 1.05 of the pan the deviation is 1.12 px across.

describe("match of passes", () => {
  it("says when to measure in again, and what causes most", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.4 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    axes: { slide: 0.4 }
passes:
  - { name: celadon, times: 4 }
#                           ^ warning match: Pass 10 (tenmoku) may be 2.1 px off pass 1 at lid at 00:00:04:00 (frame 100) (95 %; 1σ 1.1 px), 0.9 px more than the 1.2 px allowed; causes: slide 96 %, pan 4 %; measure in again after pass 3, or take fewer passes.
  - { name: tenmoku, times: 6 }
tolerance: { match: 1.2 px }
`);
  });

  it("holds just within the tolerance", () => {
    check(`
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.4 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    axes: { slide: 0.4 }
passes:
  - { name: celadon, times: 4 }
  - { name: tenmoku, times: 6 }
tolerance: { match: 2.3 px }
`);
  });

  it("says that pass 2 is beyond it already, and whether measuring in helps", () => {
    check(`
#- coarse.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.4 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    axes: { slide: 0.4 }
passes:
  - { name: celadon, times: 2 }
#                           ^ warning match: Pass 2 (celadon) may be 0.9 px off pass 1 at lid at 00:00:04:00 (frame 100) (95 %; 1σ 0.4 px), 0.6 px more than the 0.3 px allowed; causes: slide 76 %, pan 24 %; already pass 2 is beyond it, and measuring in does not help, as the axes come back to 0.6 px at best: allow more.
tolerance: { match: 0.3 px }
#- far.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.4 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    axes: { slide: 0.4 }
passes:
  - { name: celadon }
  - { name: tenmoku }
#           ^^^^^^^ warning match: Pass 2 (tenmoku) may be 0.9 px off pass 1 at lid at 00:00:04:00 (frame 100) (95 %; 1σ 0.4 px), 0.1 px more than the 0.8 px allowed; causes: slide 76 %, pan 24 %; already pass 2 is beyond it: measure in again before each pass, or allow more.
tolerance: { match: 0.8 px }
`);
  });

  it("has nothing to say of one pass, of a rig that states nothing, and where nothing is aimed at", () => {
    check(`
#- once.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.4 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    axes: { slide: 0.4 }
passes:
  - { name: celadon }
tolerance: { match: 0.01 px }
#- unknown.move.yaml
move: 1
rig: plain.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.4 }
    aim: { at: lid, framing: [0.5, 0.5] }
  - at: 8 s
    axes: { slide: 0.4 }
passes:
  - { name: celadon, times: 9 }
tolerance: { match: 0.01 px }
#- unaimed.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - at: 0 s
    axes: { slide: -0.4, pan: 0, tilt: 0 }
  - at: 8 s
    axes: { slide: 0.4 }
passes:
  - { name: celadon, times: 9 }
tolerance: { match: 0.01 px }
`);
  });

  it("counts the way that the move goes back: half of it where it is set anew, none where it ends as it begins", () => {
    const sigmaOf = (more: string, end = 0.4): number => {
      const text = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: -0.4 }, aim: lid }
  - { at: 8 s, axes: { slide: 0.4 } }
${end === 0.4 ? "" : `  - { at: 16 s, axes: { slide: ${end} } }`}
passes: [{ name: a, times: 9001 }]
tolerance: { match: 0.01 px }
${more}
`;
      const documents = { ...KIT, "slider.rig.yaml": SLIDER, "m.move.yaml": text };
      const [{ value }] = findingsOfCode(documents, "m.move.yaml", "match");
      return value!;
    };
    // After 9,000 passes slip is all that counts: it goes with the way.
    const near = (actual: number, expected: number): void => assert.ok(Math.abs(actual / expected - 1) < 1e-3);
    const whole = sigmaOf("");
    near(sigmaOf("return: none"), whole / 2);
    near(sigmaOf("return: { time: 5 s }"), whole);
    near(sigmaOf("return: { time: 5 s, via: [{ at: 50 %, axes: { slide: 0.6 } }] }"), whole * ((0.8 + 0.2 + 1) / 1.6));
    near(sigmaOf("", -0.4), whole);
  });
});

interface Case {
  readonly rig: string;
  readonly repeat: Readonly<Record<string, string>>;
  readonly keys: readonly [string, string];
  readonly cause: string;
}

const CASES: readonly Case[] = [
  {
    rig: "slider",
    repeat: { slide: "{ sigma: 0.1 mm, slip: 0.3 mm/m }" },
    keys: ["slide: -0.3", "slide: 0.5"],
    cause: "slide",
  },
  {
    rig: "crane",
    repeat: { lift: "{ sigma: 0.01 deg, slip: 0.0004 }", level: "{ sigma: 0.002 deg }" },
    keys: ["swing: -12, lift: 6", "swing: 12, lift: -9"],
    cause: "lift",
  },
  {
    rig: "telescope",
    repeat: { tube: "{ sigma: 0.1 mm, slip: 2 mm/m }", swing: "{ sigma: 0.001 deg }" },
    keys: ["swing: 20, lift: 5, tube: -0.4", "swing: 35, lift: 5, tube: 0.4"],
    cause: "tube",
  },
];

function documentsOf({ rig, repeat, keys }: Case, passes: string, tolerance: number): Documents {
  const text = `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { ${keys[0]} }, aim: lid }
  - { at: 8 s, axes: { ${keys[1]} } }
passes: ${passes}
tolerance: { match: ${tolerance} px }
`;
  return { ...KIT, [`${rig}.rig.yaml`]: rigWith(rig, repeat), "m.move.yaml": text };
}

for (const each of CASES) {
  describe(`match of passes on the ${each.rig}`, () => {
    const passes = "[{ name: a, times: 2 }, { name: b, times: 18 }]";
    const find = (tolerance: number, of = passes) =>
      findingsOfCode(documentsOf(each, of, tolerance), "m.move.yaml", "match");

    it("goes with a tolerance that is larger by the stated amount, and stays with 90 % of it", () => {
      const [{ value, limit, axis }] = find(0.5);
      assert.ok(value !== undefined && limit === 0.5 && value > 0.6);
      assert.equal(axis, each.cause);
      assert.equal(find(limit + 0.9 * (value - limit)).length, 1);
      assert.equal(find(limit + 1.0001 * (value - limit)).length, 0);
    });

    it("names the last pass that holds", () => {
      const [{ message, value }] = find(0.5);
      const tolerance = (0.5 + value!) / 2;
      const good = Number(/after pass (\d+)/.exec(find(tolerance)[0].message)?.[1]);
      assert.ok(2 <= good && good < 20, message);
      assert.equal(find(tolerance, `[{ name: a, times: ${good} }]`).length, 0);
      assert.equal(find(tolerance, `[{ name: a, times: ${good + 1} }]`).length, 1);
    });

    it("brings cures that cure", () => {
      const [{ value }] = find(0.5);
      assertCures(documentsOf(each, passes, (0.5 + value!) / 2), "m.move.yaml", "match");
    });

    it("brings none where taking one pass less often is not enough", () => {
      const [{ value }] = find(0.5);
      const many = `[${"abcdefghij"
        .split("")
        .map((name) => `{ name: ${name}, times: 2 }`)
        .join(", ")}]`;
      const [finding] = find((0.5 + value!) / 2, many);
      assert.deepEqual(finding.cures, []);
    });
  });
}
