import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { asJsonFiles } from "../../../test/fixtures/as-json.ts";
import { assertCures, findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const CAMERA = KIT["a.camera.yaml"];

interface Ending {
  readonly rig?: string;
  readonly camera?: string;
  readonly set?: string;
  readonly lens?: string;
  readonly more?: string;
  /** Fields of the last key. */
  readonly end?: string;
}

/** A move that ends at a key called `end`. */
function move(ending: Ending = {}): string {
  const { rig = "slider", camera = "a", set = "table", lens = "wide", more = "" } = ending;
  const { end = "axes: { slide: 0.2 }, aim: { framing: [0.5, 0.5] }" } = ending;
  return `move: 1
rig: ${rig}.rig.yaml
camera: { use: ${camera}.camera.yaml, lens: ${lens} }
set: ${set}.set.yaml
${more}keys:
  - { at: 0 s, name: begin, axes: { ${FIRST[rig]}, plate: 0 }, aim: { at: lid, framing: [0.5, 0.5] } }
  - { at: 6 s, name: end, ${end} }
`;
}

const FIRST: Readonly<Record<string, string>> = {
  slider: "slide: 0",
  crane: "swing: 0, lift: 0",
  telescope: "swing: 0, lift: 0, tube: 0",
  roller: "slide: 0",
};

function documents(second: Ending, { match = "", first = {} }: { match?: string; first?: Ending } = {}): Documents {
  return {
    ...KIT,
    "a.move.yaml": move(first),
    "b.move.yaml": move(second),
    "d.shoot.yaml": `shoot: 1
shots: [{ move: a.move.yaml }, { move: b.move.yaml }]
match: [{ from: "a.move.yaml#end", to: "b.move.yaml#end", about: lid${match} }]
`,
  };
}

const found = (all: Documents) => findingsOfCode(all, "d.shoot.yaml", "match");

const value = (all: Documents): number => found(all)[0]?.value ?? 0;

const near = (actual: number | undefined, expected: number, slack: number): void =>
  assert.ok(actual !== undefined && Math.abs(actual - expected) <= slack, `${actual} is not ${expected}`);

describe("cuts that must match", () => {
  it("differ in framing: both keys, both values, the places of both keys and a cure", () => {
    const fixture = `
#- d.shoot.yaml
shoot: 1
shots: [{ move: a.move.yaml }, { move: b.move.yaml }]
match:
  - from: a.move.yaml#end
    to: b.move.yaml#end
#       ^^^^^^^^^^^^^^^ warning match: The cut from a.move.yaml#end to b.move.yaml#end does not match about lid: its pictures are 307.2 px apart where 2 px is allowed: framing [0.5000, 0.5000] and [0.4500, 0.5000], distance 1.92 m and 1.9202 m, directions of view 0.2 deg apart; the same in both: camera height above it 95.5 mm, roll 0 deg, focal length 24 mm, field of view 73.74 deg; set \`framing\` at b.move.yaml#end to [0.5, 0.5], as at a.move.yaml#end.
    about: lid
`;
    const second = { end: "axes: { slide: 0.2 }, aim: { framing: [0.45, 0.5] }" };
    checkFindings(fixture, { beside: documents(second) });
    const all = documents(second);
    const [{ related, cures, key, unit, limit }] = found(all);
    const places = related.map(({ place, message }) => [place.file, message]);
    assert.deepEqual(places, [
      ["a.move.yaml", "from here: end"],
      ["b.move.yaml", "to here: end"],
    ]);
    assert.deepEqual([key, unit, limit], ["end", "px", 2]);
    assert.deepEqual(
      cures.map((cure) => [cure.file, cure.title]),
      [["b.move.yaml", "Set `framing` at b.move.yaml#end to [0.5, 0.5], as at a.move.yaml#end"]],
    );
  });

  it("are no finding where they agree, from one move to the other or within one", () => {
    checkFindings(
      `
#- d.shoot.yaml
shoot: 1
shots: [{ move: a.move.yaml }, { move: b.move.yaml }]
match:
  - { from: a.move.yaml#end, to: b.move.yaml#end, about: lid, tolerance: 0.001 px }
  - { from: a.move.yaml#begin, to: a.move.yaml#begin, about: spout, tolerance: 0.001 px, size: 2 m }
`,
      { beside: documents({}) },
    );
  });

  it("just pass and just fail at the tolerance, the size left out of it", () => {
    // 0.05 of 6144 px are 307.2 px.
    const second = { end: "axes: { slide: 0.2 }, aim: { framing: [0.45, 0.5] }" };
    const at = (tolerance: string): Documents => documents(second, { match: `, tolerance: ${tolerance}, size: 0 m` });
    near(value(at("2 px")), 307.2, 1e-6);
    assert.equal(found(at("307.1 px")).length, 1);
    assert.deepEqual(found(at("307.3 px")), []);
  });

  describe("differ by what can be reckoned by hand", () => {
    // The pupil is 0.09 m before the head's axes, at the height of the lid, and looks straight at it from 2 m away. Points
    // are 0.1 m about the lid, and one metre at 2 m away is pictured on PX px.
    const SET =
      "set: 1\ntargets:\n  lid: { at: [0, 0, 0.3], on: plate }\nturntables:\n  plate: { at: [2.09, 0, 0.9] }\n";
    const PX = ((24 / 36) * 6144) / 2;
    const R = 0.1;
    const LEVEL = "axes: { slide: 0 }, aim: { framing: [0.5, 0.5] }";
    const level = (more: Ending = {}): Ending => ({ end: LEVEL, ...more });
    const compared = (second: Ending, more: Documents = {}, first: Ending = {}): Documents => ({
      ...documents(level(second), { match: ", size: 0.2 m", first: level(first) }),
      "table.set.yaml": SET,
      ...more,
    });

    it("in distance: what is about the target is another size", () => {
      // From 2 m to 2.5 m; points beside the target, in its plane, move by PX R (1 - 2 / 2.5).
      const all = compared({ more: "place: { at: [-0.5, 0] }\n" });
      near(value(all), PX * R * (1 - 2 / 2.5), 1e-3);
      assert.match(
        found(all)[0].message,
        /the pictures of lid are 0 px apart, but what is 0\.1 m about it is up to 41 px/,
      );
      assert.match(found(all)[0].message, /: distance 2 m and 2\.5 m; the same in both: framing/);
      assert.match(found(all)[0].message, /its camera stands at \[-2, 0, 0\] from lid\), or allow more\.$/);
    });

    it("in focal length, and are cured by the zoom where the key gives one", () => {
      const camera = CAMERA.replace("focal: 24 mm", "focal: [20 mm, 40 mm]");
      const kit = { "a.camera.yaml": camera };
      const first = { end: `${LEVEL}, zoom: 24 mm` };
      const all = compared({ end: `${LEVEL}, zoom: 30 mm` }, kit, first);
      near(value(all), PX * R * (30 / 24 - 1), 1e-3);
      assert.match(found(all)[0].message, /focal length 24 mm and 30 mm, field of view 73\.74 deg and 61\.93 deg;/);
      assertCures(all, "d.shoot.yaml", "match");
      assert.deepEqual(found(compared({ end: `${LEVEL}, zoom: 24 mm` }, kit, first)), []);
    });

    it("in roll, and are cured by it", () => {
      const roll = "  - { axis: roll, type: rotary, along: [1, 0, 0], range: [-30, 30] }\n";
      const rig = KIT["slider.rig.yaml"].replace("head: {", `${roll}head: { roll: roll,`);
      const kit = {
        "roller.rig.yaml": rig.replace("camera-mount: { at: [0.04, 0, 0.05] }", "camera-mount: { at: [0.04, 0, 0] }"),
      };
      const lower = { "table.set.yaml": SET.replace("0, 0, 0.3", "0, 0, 0.25") };
      const ending = (angle: number): Ending => ({ rig: "roller", end: `${LEVEL}, roll: ${angle}` });
      const all = compared(ending(4), { ...kit, ...lower }, ending(0));
      // The chord of a turn by 4 deg.
      near(value(all), PX * R * 2 * Math.sin((2 * Math.PI) / 180), 1e-3);
      assert.match(found(all)[0].message, /: roll 0 deg and 4 deg;/);
      assertCures(all, "d.shoot.yaml", "match");
    });

    it("by the turn of the table that the target stands on, although the set is seen the same", () => {
      const all = compared({ end: "axes: { slide: 0, plate: 30 }, aim: { framing: [0.5, 0.5] }" });
      const [sine, cosine] = [0.5, Math.sqrt(3) / 2];
      // The point nearest to the camera, R before the target, moves most: aside by R sin 30 deg, at 2 m - R cos 30 deg.
      near(value(all), (2 * PX * R * sine) / (2 - R * cosine), 1e-3);
      assert.match(found(all)[0].message, /: tables turned 30 deg apart; the same in both: /);
    });

    it("by the delivered crop: what is cut together is what is delivered", () => {
      const all = compared({ more: "deliver: [3072, 1728]\n" });
      near(value(all), PX * R, 1e-3);
      assert.match(
        found(all)[0].message,
        /: delivered share of the picture's height 100 % and 50 %; the same in both: /,
      );
      assert.deepEqual(
        found(compared({ more: "deliver: [3072, 1728]\n" }, {}, { more: "deliver: [3072, 1728]\n" })),
        [],
      );
    });

    it("not by the resolution: shares of the pictures are compared, and told in px of the first", () => {
      const half = { "half.camera.yaml": CAMERA.replace("[6144, 3456]", "[3072, 1728]") };
      assert.deepEqual(found(compared({ camera: "half" }, half)), []);
      const aside = { camera: "half", end: "axes: { slide: 0 }, aim: { framing: [0.45, 0.5] }" };
      near(value(compared(aside, half)), 0.05 * 6144, 1e-6);
      near(value(compared(aside, half, { camera: "half" })), 0.05 * 3072, 1e-6);
    });

    it("not where target and rig stand elsewhere alike", () => {
      const other = SET.replace("[2.09, 0, 0.9]", "[3.29, 0.7, 0.9]");
      const second = { set: "other", more: "place: { at: [1.2, 0.7] }\n" };
      assert.deepEqual(found(compared(second, { "other.set.yaml": other })), []);
    });

    it("without end where a camera looks away from the target", () => {
      const back = (x: number): string =>
        `${SET}  edge: { at: [${x}, 0, 1] }\n`.replace(/(turntables:[^]*)( {2}edge.*\n)/, "$2$1");
      const lid = compared({ set: "other" }, { "table.set.yaml": back(2), "other.set.yaml": back(-3) });
      const all = { ...lid, "d.shoot.yaml": lid["d.shoot.yaml"].replace("about: lid", "about: edge") };
      const [finding] = found(all);
      assert.deepEqual([finding.value, finding.limit, finding.cures.length], [undefined, 2, 0]);
      assert.match(
        finding.message,
        /one of the two cameras does not see it: framing \[[\d., ]+\] and behind the camera,/,
      );
    });
  });

  it("take what fills half of the delivered picture's height where no size is stated", () => {
    // Half of 20.25 mm through 24 mm at the lid's depth, which is the distance for a lid in the middle.
    const second = { end: "axes: { slide: 0.3 }, aim: { framing: [0.5, 0.5] }" };
    const reach = ((20.25 / 24) * Math.hypot(2 - 0.0895, 0.1909, 0.0955) * 0.5) / 2;
    const said = /what is ([\d.]+) m about it/.exec(found(documents(second))[0].message)?.[1];
    near(Number(said), reach, 1e-3);
  });

  it("name a target that both sets have", () => {
    checkFindings(
      `
#- d.shoot.yaml
shoot: 1
shots: [{ move: a.move.yaml }]
match:
  - { from: a.move.yaml#end, to: b.move.yaml#end, about: lit }
#                                                        ^^^ error unknown-target: The set of \`a.move.yaml\` has no target \`lit\`. Did you mean \`lid\`?
  - { from: a.move.yaml#end, to: b.move.yaml#end, about: spout }
#                                                        ^^^^^ error unknown-target: The set of \`b.move.yaml\` has no target \`spout\`. Known: \`lid\`.
`,
      {
        beside: {
          ...documents({ set: "bare" }),
          "bare.set.yaml": "set: 1\ntargets:\n  lid: { at: [2, 0, 1.1] }\nturntables:\n  plate: { at: [2, 0, 0.9] }\n",
        },
      },
    );
  });

  it("say that a target that only sights locate is not computed yet", () => {
    const sights =
      "targets:\n  knob: { sights: [{ rig: slider.rig.yaml, camera: { use: a.camera.yaml, lens: wide }, place: { at: [0, 0] }, axes: { slide: 0 } }] }";
    const all = documents({});
    const knob = {
      ...all,
      "table.set.yaml": KIT["table.set.yaml"].replace("targets:", sights),
      "d.shoot.yaml": all["d.shoot.yaml"].replace("about: lid", "about: knob"),
    };
    const told = findingsOfCode(knob, "d.shoot.yaml", "not-computed");
    assert.deepEqual(
      told.map(({ message }) => message.slice(0, 39)),
      ["`knob` is known by its sights only, and"],
    );
  });

  it("can be allowed at the cut with a reason", () => {
    const second = { end: "axes: { slide: 0.2 }, aim: { framing: [0.45, 0.5] }" };
    const allow = ", allow: [{ code: match, reason: a jump is wanted }]";
    const [finding] = found(documents(second, { match: allow }));
    assert.deepEqual([finding.severity, finding.allowed], ["hint", "a jump is wanted"]);
  });

  const ENDS: Readonly<Record<string, string>> = {
    slider: "slide: 0.2",
    crane: "swing: 6, lift: 4",
    telescope: "swing: 3, lift: 2, tube: 0.2",
  };

  for (const [rig, axes] of Object.entries(ENDS)) {
    const at = (across: number, match = ""): Documents => {
      const ending = (share: number): Ending => ({ rig, end: `axes: { ${axes} }, aim: { framing: [${share}, 0.48] }` });
      return documents(ending(across), { match, first: ending(0.5) });
    };

    it(`state by how much the framing is beyond the tolerance: ${rig}`, () => {
      const px = ", size: 0 m, tolerance: 5 px";
      const [{ value: apart, limit }] = found(at(0.53, px));
      assert.ok(apart !== undefined && limit === 5);
      const moved = (by: number): Documents => at(0.53 - (by * (apart - limit)) / 6144, px);
      assert.deepEqual(found(moved(1.00001)), []);
      assert.equal(found(moved(0.9)).length, 1);
    });

    it(`state by how much what is about the target is beyond the tolerance: ${rig}`, () => {
      const off = axes.replace("slide: 0.2", "slide: 0.24").replace("swing: ", "swing: 1");
      const tolerant = (px: number): Documents => {
        const ending = (each: string): Ending => ({ rig, end: `axes: { ${each} }, aim: { framing: [0.5, 0.48] }` });
        return documents(ending(off), { match: `, size: 0.3 m, tolerance: ${px} px`, first: ending(axes) });
      };
      const [{ value: apart, limit, message }] = found(tolerant(2));
      assert.ok(apart !== undefined && limit === 2);
      assert.match(message, /but what is 0\.15 m about it is up to/);
      assert.deepEqual(found(tolerant(2 + 1.00001 * (apart - 2))), []);
      assert.equal(found(tolerant(2 + 0.9 * (apart - 2))).length, 1);
    });

    it(`are cured by the second key's framing, in YAML and in JSON: ${rig}`, () => {
      assertCures(at(0.53), "d.shoot.yaml", "match");
      const json = Object.fromEntries(asJsonFiles(new Map(Object.entries(at(0.53)))).files);
      assertCures(json, "d.shoot.json", "match");
    });
  }

  describe("are cured by the camera's place where the key states one", () => {
    const at = (camera: string, more = ""): Ending => ({
      rig: "telescope",
      end: `camera: { ${camera} }, aim: { at: lid, framing: [0.5, 0.48] }${more}`,
    });
    const FROM = at("from: lid, offset: [-0.6, 0.05, 0.2]");
    const setOf = (second: Ending, more: Documents = {}): readonly string[] => {
      const all = { ...documents(second, { first: FROM }), ...more };
      assertCures(all, "d.shoot.yaml", "match");
      return found(all)[0].cures.flatMap(({ edits }) => edits.map(({ text }) => text));
    };

    it("by its offset from the target", () => {
      assert.deepEqual(setOf(at("from: lid, offset: [-0.62, 0.05, 0.22]")), ["[-0.6, 0.05, 0.2]"]);
    });

    it("by its place in the set", () => {
      assert.deepEqual(setOf(at("at: [1.38, 0.05, 1.32]")), ["[1.4, 0.05, 1.3]"]);
    });

    it("not by an offset from another target", () => {
      const all = documents(at("from: spout, offset: [-0.62, -0.35, 0.32]"), { first: FROM });
      assert.deepEqual(found(all)[0].cures, []);
    });
  });

  it("offer no framing where that alone does not make the pictures agree", () => {
    const second = { end: "axes: { slide: 0.3 }, aim: { framing: [0.45, 0.5] }" };
    assert.deepEqual(found(documents(second))[0].cures, []);
  });
});
