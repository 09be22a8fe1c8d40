import assert from "node:assert/strict";
import { runToEnd } from "../../base/task.ts";
import { freeShare } from "../../load/feet.ts";
import { createStand, writeStand } from "../../load/stand.ts";
import { analyse } from "../analyse.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { assertCures, cured, findingsOfCode, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

const check = (fixture: string): void => checkFindings(fixture, { beside: KIT });

const SQUARE = "[[-0.4, 0.4], [0.4, 0.4], [0.4, -0.4], [-0.4, -0.4]]";

interface Case {
  readonly masses: string;
  readonly keys: string;
}

/** Moves of which each brings the rig near an edge of its feet by speeding up and slowing down. */
const QUICK: Readonly<Record<string, Case>> = {
  slider: {
    masses: "{ on: base, at: [0, 0, 0.5], mass: 20 kg }, { on: slide, at: [0, 0, 0.1], mass: 6 kg }",
    keys: `
  - { at: 0 s, aim: none, axes: { slide: -0.4, pan: 0, tilt: 0 } }
  - { at: 1.2 s, axes: { slide: 0.4 } }`,
  },
  crane: {
    masses:
      "{ on: base, at: [0, 0, 0.6], mass: 80 kg }, { on: lift, at: [0.5, 0, 0], mass: 6 kg }, { on: pan, mass: 3 kg }",
    keys: `
  - { at: 0 s, aim: none, axes: { swing: -60, lift: 10, pan: 0, tilt: 0 } }
  - { at: 2 s, axes: { swing: 60, lift: 0 } }`,
  },
  telescope: {
    masses:
      "{ on: base, at: [0, 0, 0.6], mass: 90 kg }, { on: tube, at: [0.5, 0, 0], mass: 5 kg }, { on: pan, mass: 3 kg }",
    keys: `
  - { at: 0 s, aim: none, axes: { swing: 20, lift: 0, tube: 0, pan: 0, tilt: 0 } }
  - { at: 1 s, axes: { swing: 30, tube: 0.3 } }
  - { at: 2 s, axes: { swing: 0, tube: -0.3 } }`,
  },
};

const RIGS = Object.keys(QUICK);

function documents(rig: string, support: string, more: { masses?: string; head?: string } = {}): Documents {
  const { masses, keys } = QUICK[rig];
  return {
    ...KIT,
    [`${rig}.rig.yaml`]: `${KIT[`${rig}.rig.yaml`]}masses: [${masses}${more.masses ?? ""}]\nsupport: ${support}\n`,
    "m.move.yaml": `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
${more.head ?? ""}keys:${keys}
`,
  };
}

const found = (all: Documents) => findingsOfCode(all, "m.move.yaml", "tip-over");
const withMargin = (margin: number, corners = SQUARE): string => `{ corners: ${corners}, margin: ${100 * margin} % }`;

/** The least share that stays free, read from findings that a high margin brings about. */
function shareOf(rig: string, more: { masses?: string; head?: string } = {}, corners = SQUARE): number {
  const shares = found(documents(rig, withMargin(0.9, corners), more)).map(({ value }) => (value ?? NaN) / 100);
  assert.ok(shares.length > 0);
  return Math.min(...shares);
}

describe("tip-over", () => {
  it("names where the rig presses on the floor, how far that is from the edge, and what would help", () => {
    check(`
#- jib.rig.yaml
rig: 1
chain:
  - { axis: swing, type: rotary, origin: { at: [0, 0, 1.2] } }
  - { axis: boom, type: linear, along: [1, 0, 0], range: [0.5, 2.5] }
  - { axis: pan, type: rotary }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
masses: [{ on: base, mass: 60 kg }, { on: boom, mass: 10 kg }]
support: [[-0.4, 0.4], [0.4, 0.4], [0.4, -0.4], [-0.4, -0.4]]
#- m.move.yaml
move: 1
rig: jib.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { swing: 0, boom: 1, pan: 0, tilt: 0 } }
  - { at: 8 s, axes: { boom: 2.4 } }
#         ^^^ error tip-over: The rig presses on the floor at [0.416, 0] m from the base at 00:00:07:14 (frame 189), 16.3 mm (4.1 % of the way from its middle) outside its support, so it may tip over, even standing still; keep the arm over the base, or put another 21.9 kg low down in the middle of the support; braking harder than the move does is not reckoned with, and this is no statement about safety: go by the rig's manual and the people responsible.
#- warned.move.yaml
move: 1
rig: jib.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { swing: 0, boom: 1, pan: 0, tilt: 0 } }
  - { at: 8 s, axes: { boom: 2 } }
#         ^^^ warning tip-over: The rig presses on the floor at [0.347, 0] m from the base at 00:00:07:14 (frame 189), 53.4 mm inside the edge of its support, even standing still, which leaves 13 % of the way from its middle, and 20 % are to be left; keep the arm over the base, or put another 6.04 kg low down in the middle of the support; braking harder than the move does is not reckoned with, and this is no statement about safety: go by the rig's manual and the people responsible.
`);
  });

  it("says nothing where a fifth of the way to the edge is left, or what the rig asks", () => {
    check(`
#- jib.rig.yaml
rig: 1
chain:
  - { axis: swing, type: rotary, origin: { at: [0, 0, 1.2] } }
  - { axis: boom, type: linear, along: [1, 0, 0], range: [0.5, 2.5] }
  - { axis: pan, type: rotary }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
masses: [{ on: base, mass: 60 kg }, { on: boom, mass: 10 kg }]
support: [[-0.4, 0.4], [0.4, 0.4], [0.4, -0.4], [-0.4, -0.4]]
#- m.move.yaml
move: 1
rig: jib.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { swing: 0, boom: 1, pan: 0, tilt: 0 } }
  - { at: 8 s, axes: { boom: 1.8 } }
`);
  });

  it("is on the edge with 120 kg at 0.4 m from it and 24 kg 2.0 m beyond it; with 12 kg half of the way is left", () => {
    const rig = (load: number): Documents => ({
      ...KIT,
      "light.camera.yaml": `camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses: { wide: { focal: 24 mm, pupil: 50 mm } }
`,
      "jib.rig.yaml": `rig: 1
chain:
  - { axis: swing, type: rotary, origin: { at: [0, 0, 1.2] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0], origin: { at: [2.4, 0, 0] } }
head: { pan: swing, tilt: tilt }
masses: [{ on: base, at: [0, 0, 0.3], mass: 120 kg }, { on: tilt, mass: ${load} kg }]
support: ${withMargin(0.9)}
`,
      "m.move.yaml": `move: 1
rig: jib.rig.yaml
camera: { use: light.camera.yaml, lens: wide }
keys: [{ at: 0 s, axes: { swing: 0, tilt: 0 } }]
`,
    });
    // A factor of 2 against tipping: 24 kg m of 48 kg m are left, over 132 kg and the 0.4 m to the edge.
    const near = (value: number | undefined, wanted: number): void =>
      assert.ok(Math.abs((value ?? NaN) - wanted) < 1e-9);
    near(found(rig(12))[0].value, (100 * 24) / 132 / 0.4);
    near(found(rig(24))[0].value, 0);
  });

  it("counts what a leaning base does, and what stands before the feet's link does not count", () => {
    const upright = shareOf("crane");
    const leaning = shareOf("crane", { head: "place: { lean: [0, 4] }\n" });
    // The rig's own height times the tangent of the lean, over the 0.4 m to the edge, less for the masses lower down.
    assert.ok(leaning < upright - 0.05, `${leaning} leaning, ${upright} upright`);
    const dolly = (on: string): Documents => ({
      ...KIT,
      "dolly.rig.yaml": `rig: 1
chain:
  - { axis: dolly, type: linear, along: [1, 0, 0], range: [0, 5] }
  - { axis: pan, type: rotary, origin: { at: [0, 0, 1.2] } }
  - { axis: tilt, type: rotary, along: [0, -1, 0] }
head: { pan: pan, tilt: tilt }
masses: [{ on: base, mass: 200 kg }, { on: dolly, mass: 50 kg }]
support: { on: ${on}, corners: ${SQUARE} }
`,
      "m.move.yaml": `move: 1
rig: dolly.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
keys:
  - { at: 0 s, axes: { dolly: 0, pan: 0, tilt: 0 } }
  - { at: 20 s, axes: { dolly: 5 } }
`,
    });
    assert.equal(found(dolly("dolly")).length, 0);
    const [finding] = found(dolly("base"));
    assert.match(finding.message, /m from the base .* outside its support, so it may tip over, even standing still/);
  });

  it("says nothing of a rig without feet or without masses of its own", () => {
    const bare = (text: string): Documents => ({ ...documents("crane", SQUARE), "crane.rig.yaml": text });
    assert.equal(found(bare(`${KIT["crane.rig.yaml"]}support: ${SQUARE}\n`)).length, 0);
    assert.equal(found(bare(`${KIT["crane.rig.yaml"]}masses: [${QUICK.crane.masses}]\n`)).length, 0);
  });

  for (const rig of RIGS) {
    it(`states amounts that are right on the ${rig}`, () => {
      const share = shareOf(rig);
      assert.equal(found(documents(rig, withMargin(share - 1e-6))).length, 0);
      assert.ok(found(documents(rig, withMargin(share + 1e-6))).length > 0);
      // Ballast: all of it in the middle of the feet ends the finding, nine tenths do not.
      const margin = share + (0.9 - share) / 2;
      const [finding] = [...found(documents(rig, withMargin(margin)))].sort((a, b) => (a.value ?? 0) - (b.value ?? 0));
      const ballast = Number(/ put another ([\d.]+) kg low down/.exec(finding.message)?.[1]);
      const after = (mass: number): number =>
        found(documents(rig, withMargin(margin), { masses: `, { on: base, mass: ${mass} kg }` })).length;
      assert.equal(after(ballast), 0);
      assert.ok(after(0.9 * ballast) > 0);
    });

    it(`plays the ${rig} slower where that is a cure, and only there`, () => {
      const quick = shareOf(rig);
      const slow = shareOf(rig, { head: "speed: 5 %\n" });
      assert.ok(quick < slow - 0.01, `${quick} quick, ${slow} slow`);
      const between = documents(rig, withMargin((quick + slow) / 2));
      assertCures(between, "m.move.yaml", "tip-over");
      const [{ cures, message }] = found(between);
      const speed = Number(/^Add `speed: (\d+) %`$/.exec(cures[0].title)?.[1]);
      assert.ok(message.includes(`\`speed: ${speed} %\` is enough`));
      // A little faster than that is too fast.
      const [edit] = cures[0].edits;
      const faster = { ...cures[0], edits: [{ ...edit, text: edit.text.replace(`${speed} %`, `${speed + 2} %`) }] };
      assert.ok(found(cured(between, faster)).length > 0, `${speed + 2} %`);
      const never = documents(rig, withMargin(Math.min(0.9, slow + 0.01)));
      assert.ok(found(never).every((finding) => finding.cures.length === 0));
    });
  }

  for (const rig of RIGS) {
    it(`misses no instant of the ${rig} between its samples`, () => {
      const all = documents(rig, withMargin(0.9));
      const { trajectory } = runToEnd(analyse("m.move.yaml", memorySources(new Map(Object.entries(all)))));
      const stand = trajectory && createStand(trajectory.move);
      assert.ok(trajectory && stand);
      const instant = trajectory.createInstant();
      let least = Infinity;
      for (let i = 0; i <= 20_000; i++) {
        trajectory.at((trajectory.duration * i) / 20_000, instant);
        writeStand(stand, trajectory.move, instant);
        least = Math.min(least, freeShare(stand.feet, stand.pull, 1));
      }
      assert.ok(shareOf(rig) <= least + 1e-9 && least - 1e-6 < shareOf(rig), `${shareOf(rig)} found, ${least} seen`);
    });
  }

  it("tells how far beyond the edge by the distance that would have to be added", () => {
    const masses = ", { on: lift, at: [1.5, 0, 0], mass: 40 kg }";
    const square = (more: number): string => SQUARE.replaceAll("0.4", String(0.4 + more));
    const error = (more: number): boolean =>
      found(documents("crane", square(more), { masses })).some(({ severity }) => severity === "error");
    const findings = found(documents("crane", SQUARE, { masses }));
    const [worst] = [...findings].sort((a, b) => (a.value ?? 0) - (b.value ?? 0));
    const [, size, unit] = /, ([\d.]+) (mm|m) \(\d+ % of the way from its middle\) outside/.exec(worst.message) ?? [];
    const distance = Number(size) / (unit === "mm" ? 1000 : 1);
    assert.ok(error(0.9 * distance));
    assert.ok(!error(distance + 1e-4));
  });

  it("agrees with what a move expects of its `support.margin`", () => {
    const expected = (share: number, support = SQUARE): Documents => {
      const all = documents("crane", support, { head: `expect: [{ of: support.margin, above: ${share} }]\n` });
      return { ...all, "crane.rig.yaml": all["crane.rig.yaml"].replace("support: none\n", "") };
    };
    const fails = (all: Documents) => findingsOfCode(all, "m.move.yaml", "expect");
    const share = shareOf("crane");
    assert.equal(fails(expected(share - 1e-6)).length, 0);
    const [finding] = fails(expected(share + 1e-6));
    assert.ok(Math.abs((finding.value ?? NaN) / 100 - share) < 1e-9);
    const [without] = fails(expected(0.5, "none"));
    assert.match(without.message, /the rig states no feet \(`support`\) or no `masses`/);
  });

  it("replaces a speed that stands in the move already, in JSON too", () => {
    const quick = shareOf("slider", { head: "speed: 90 %\n" });
    const slow = shareOf("slider", { head: "speed: 5 %\n" });
    const all = documents("slider", withMargin((quick + slow) / 2), { head: "speed: 90 %\n" });
    assertCures(all, "m.move.yaml", "tip-over");
    assert.match(found(all)[0].cures[0].title, /^Set `speed: \d+ %`$/);
    const json = `{ "move": 1, "rig": "slider.rig.yaml", "camera": { "use": "a.camera.yaml", "lens": "wide" }, "speed": "90 %",
      "keys": [{ "at": "0 s", "aim": "none", "axes": { "slide": -0.4, "pan": 0, "tilt": 0 } }, { "at": "1.2 s", "axes": { "slide": 0.4 } }] }`;
    assertCures({ ...all, "m.move.json": json }, "m.move.json", "tip-over");
  });

  it("offers no slower play for a target that moves in its own time", () => {
    const quick = shareOf("slider");
    const slow = shareOf("slider", { head: "speed: 5 %\n" });
    const all = documents("slider", withMargin((quick + slow) / 2), { head: "set: s.set.yaml\n" });
    const moving = { ...all, "s.set.yaml": "set: 1\ntargets: { cup: { follow: [{ at: 0 s, to: [1, 0, 1] }, { at: 1 s, to: [1, 1, 1] }] } }\n" }; // prettier-ignore
    const [finding] = found(moving);
    assert.equal(finding.cures.length, 0);
    assert.match(finding.message, /; slow the move down, keep the arm/);
  });
});
