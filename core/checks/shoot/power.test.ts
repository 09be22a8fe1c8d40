import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { asJsonFiles } from "../../../test/fixtures/as-json.ts";
import { assertCures, cured, findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

/** Rigs of the kit with a battery each; the figures are invented. */
const POWER = {
  slider: "power: { battery: 100 Wh, usable: 80 %, idle: 40 W, axes: { slide: 20 W, pan: 5 W, tilt: 5 W } }\n",
  crane: "power: { battery: 150 Wh, usable: 80 %, idle: 30 W, axes: { swing: 60 W, lift: 80 W, pan: 10 W } }\n",
  telescope: "power: { battery: 98 Wh, usable: 90 %, idle: 12 W, axes: { tube: 40 W, level: 3 W } }\n",
} as const;

type RigName = keyof typeof POWER;

const rigWith = (rig: RigName, power: string = POWER[rig]): Documents => ({
  [`${rig}.rig.yaml`]: KIT[`${rig}.rig.yaml`] + power,
});

const FIRST: Readonly<Record<RigName, string>> = {
  slider: "slide: 0",
  crane: "swing: 0, lift: 0",
  telescope: "swing: 0, lift: 0, tube: 0",
};
const SECOND: Readonly<Record<RigName, string>> = {
  slider: "slide: 0.2",
  crane: "swing: 6, lift: 4",
  telescope: "swing: 0, lift: 0, tube: 0.3",
};

/** 10 s from rest to rest, every keyed axis in motion all the time. */
const move = (rig: RigName, more = ""): string => `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
${more}keys:
  - { at: 0 s, axes: { ${FIRST[rig]}, plate: 0 }, aim: { at: lid } }
  - { at: 10 s, axes: { ${SECOND[rig]} } }
`;

const shoot = (...shots: readonly string[]): string =>
  `shoot: 1\nshots:\n${shots.map((shot) => `  - ${shot}\n`).join("")}`;

/** Minutes after which a battery is more than half empty. */
const SETUP: Readonly<Record<RigName, number>> = { slider: 100, crane: 150, telescope: 250 };

const PASSES = "passes: [{ name: red, times: 3 }, { name: blue }]\n";

function documents(rig: RigName, day: string): Documents {
  return { ...KIT, ...rigWith(rig), "a.move.yaml": move(rig, PASSES), "d.shoot.yaml": day };
}

const found = (all: Documents) => findingsOfCode(all, "d.shoot.yaml", "power");

const near = (actual: number | undefined, expected: number, slack: number): void =>
  assert.ok(actual !== undefined && Math.abs(actual - expected) <= slack, `${actual} is not ${expected}`);

describe("power of a shoot", () => {
  it("finds the first shot that the battery does not last for", () => {
    checkFindings(
      `
#- d.shoot.yaml
shoot: 1
shots:
  - { name: over the lid, move: a.move.yaml, setup-time: 60 min, pass-time: 5 min }
  - name: along the side
    move: a.move.yaml
#         ^^^^^^^^^^^ error power: The battery of Slider with a two-axis head does not last over along the side: it is empty in pass red (2 of 3), and the shot's end needs 88.3 Wh of the 80 Wh that it gives (80 % of 100 Wh); at 40.8 W on average it lasts 1.96 h; change it after over the lid, before this shot.
    setup-time: 30 min
    pass-time: 5 min
  - { move: a.move.yaml, passes: [blue], setup-time: 5 min }
`,
      { beside: { ...KIT, ...rigWith("slider"), "a.move.yaml": move("slider", PASSES) } },
    );
  });

  it("finds nothing where the battery just lasts, or is changed", () => {
    // 40 W for 119 minutes, and 30 W more for a take of 10 s: 79.333 + 0.083 + 0.111 of 80 Wh.
    checkFindings(
      `
#- d.shoot.yaml
shoot: 1
shots:
  - { move: a.move.yaml, passes: [blue], setup-time: 119 min }
  - { move: a.move.yaml, passes: [blue], setup-time: 119 min, change-battery: true }
`,
      { beside: { ...KIT, ...rigWith("slider"), "a.move.yaml": move("slider", PASSES) } },
    );
  });

  it("counts idle time, takes, the ways back between them, and waits", () => {
    // Idle 40 W over 2 h; 30 W more for 4 takes of 10 s and 3 ways back of 20 s: 40 · 2 + 30 · 100 / 3600.
    const day = shoot("{ move: a.move.yaml, setup-time: 110 min, pass-time: 2.5 min }");
    near(found(documents("slider", day))[0]?.value, 80 + (30 * 100) / 3600, 1e-6);
    // Without a stated time a pass takes as long as it takes: 4 · 10 s + 3 · 20 s of everything.
    const plain = shoot("{ move: a.move.yaml, setup-time: 120 min }");
    near(found(documents("slider", plain))[0]?.value, 80 + (70 * 100) / 3600, 1e-6);
    // A time that is too short for the take and the way back is not kept.
    const hurried = shoot("{ move: a.move.yaml, setup-time: 120 min, pass-time: 1 s }");
    near(found(documents("slider", hurried))[0]?.value, 80 + (70 * 100) / 3600, 1e-6);
  });

  it("says when even a fresh battery is not enough, and where to change it; no text cures that", () => {
    const day = shoot("{ move: a.move.yaml, passes: [blue] }", "{ move: a.move.yaml, pass-time: 40 min }");
    const [finding, ...rest] = found(documents("slider", day));
    assert.equal(rest.length, 0);
    assert.match(finding.message, /even a fresh one does not last for this shot alone \(107\.5 Wh\)/);
    assert.match(finding.message, /change it before the shot and after pass red \(2 of 3\), or take a larger one\.$/);
    assert.deepEqual(finding.cures, []);
    const endless = shoot("{ move: a.move.yaml, passes: [blue], pass-time: 3 h }");
    assert.match(found(documents("slider", endless))[0].message, /: take a larger battery, or power from the mains\.$/);
  });

  it("reckons with ten thousand takes as with one, and tells the first changes", () => {
    // 700 J a take and 1400 J a way back: 137 of 2100 J each in 80 Wh = 288 kJ, so 72 changes in the 9,999 before the last.
    const all = { ...documents("slider", shoot("{ move: a.move.yaml }")) };
    const many = { ...all, "a.move.yaml": move("slider", "passes: [{ name: red, times: 10000 }]\n") };
    const [finding] = found(many);
    near(finding.value, (9999 * 2100 + 700) / 3600, 1e-3);
    assert.match(finding.message, /it is empty in pass red \(138 of 10000\), /);
    assert.match(
      finding.message,
      /change it after pass red \(137 of 10000\); .*\(822 of 10000\) and 66 times more, or/,
    );
  });

  it("goes on as if the battery had been changed, so that each change that is needed is told", () => {
    const shot = "{ move: a.move.yaml, passes: [blue], setup-time: 70 min }";
    const day = documents("slider", shoot(shot, shot, shot, shot));
    assert.equal(found(day).length, 3);
    let all = day;
    for (let left = 3; 0 < left; left--) {
      assert.equal(found(all).length, left);
      all = cured(all, found(all)[0].cures[0]);
    }
    assert.deepEqual(found(all), []);
  });

  it("gives each rig a battery of its own", () => {
    const both = (rig: RigName): string => `{ move: ${rig}.move.yaml, setup-time: 90 min }`;
    const all = {
      ...KIT,
      ...rigWith("slider"),
      ...rigWith("crane"),
      "slider.move.yaml": move("slider"),
      "crane.move.yaml": move("crane"),
      "d.shoot.yaml": shoot(both("slider"), both("crane")),
    };
    assert.deepEqual(found(all), []);
    const longer = { ...all, "d.shoot.yaml": shoot(both("slider"), both("crane"), both("slider"), both("crane")) };
    assert.equal(found(longer).length, 1);
    assert.match(found(longer)[0].message, /^The battery of Slider .* after slider, before this shot\.$/);
  });

  it("says nothing against a battery that may have been changed before a shot whose move is not known", () => {
    const long = "{ move: a.move.yaml, passes: [blue], setup-time: 70 min }";
    const gone = "{ move: gone.move.yaml, change-battery: true }";
    assert.deepEqual(found(documents("slider", shoot(long, gone, long))), []);
  });

  it("can be allowed at its shot with a reason", () => {
    const day = `shoot: 1
shots:
  - { move: a.move.yaml, setup-time: 60 min, pass-time: 5 min }
  - move: a.move.yaml # allow power: the battery is charged over lunch
    setup-time: 60 min
`;
    const [finding, ...rest] = found(documents("slider", day));
    assert.equal(rest.length, 0);
    assert.deepEqual([finding.severity, finding.allowed], ["hint", "the battery is charged over lunch"]);
    const field = day.replace(/ # allow.*/, "\n    allow: [{ code: power, reason: charged over lunch }]");
    assert.equal(found(documents("slider", field))[0].allowed, "charged over lunch");
  });

  for (const rig of ["slider", "crane", "telescope"] as const) {
    it(`states an amount that a larger battery makes up for, and cures: ${rig}`, () => {
      const shot = `move: a.move.yaml, setup-time: ${SETUP[rig]} min, pass-time: 2 min`;
      const all = documents(rig, shoot(`{ ${shot} }`, `{ name: second, ${shot} }`));
      const [{ value, limit, unit, related }, ...rest] = found(all);
      assert.equal(rest.length, 0);
      assert.ok(value !== undefined && limit !== undefined && limit < value);
      assert.equal(unit, "Wh");
      assert.ok(related.some(({ place }) => place.file === `${rig}.rig.yaml`));
      const [, battery, usable] = /battery: (\d+) Wh, usable: (\d+) %/.exec(POWER[rig]) ?? [];
      near(limit, (Number(battery) * Number(usable)) / 100, 1e-9);
      const enlarged = (by: number): Documents => {
        const full = ((limit + by * (value - limit)) * 100) / Number(usable);
        return { ...all, ...rigWith(rig, POWER[rig].replace(`${battery} Wh`, `${full} Wh`)) };
      };
      assert.deepEqual(found(enlarged(1.000001)), []);
      assert.equal(found(enlarged(0.9)).length, 1);
      assertCures(all, "d.shoot.yaml", "power");
    });
  }

  it("cures in JSON, and where the shot says that the battery is not changed", () => {
    const shot = "move: a.move.yaml, setup-time: 100 min";
    const all = documents("slider", shoot(`{ ${shot} }`, `{ change-battery: false, ${shot} }`));
    assertCures(all, "d.shoot.yaml", "power");
    const json = Object.fromEntries(asJsonFiles(new Map(Object.entries(all))).files);
    assertCures(json, "d.shoot.json", "power");
  });
});
