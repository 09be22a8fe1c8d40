import assert from "node:assert/strict";
import { checkFindings } from "../../../test/fixtures/annotated.ts";
import { findingsOfCode } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";

/** A battery that is small against what the slider draws: 40 W at rest, 30 W more while it moves. Invented. */
const small = (battery: string): Readonly<Record<string, string>> => ({
  ...KIT,
  "slider.rig.yaml": `${KIT["slider.rig.yaml"]}power: { battery: ${battery}, usable: 80 %, idle: 40 W, axes: { slide: 20 W, pan: 5 W, tilt: 5 W } }\n`,
});

const move = (passes: string): string => `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: 0, plate: 0 }, aim: { at: lid } }
  - { at: 10 s, axes: { slide: 0.2 } }
${passes}`;

const found = (battery: string, passes: string) =>
  findingsOfCode({ ...small(battery), "m.move.yaml": move(passes) }, "m.move.yaml", "power");

describe("power of a move's own passes", () => {
  // A take is 70 W for 10 s, a way back 70 W for 20 s: 4 passes are 4 · 700 J + 3 · 1400 J = 7000 J = 1.944 Wh.
  const PASSES = "passes: [{ name: red, times: 3 }, { name: blue }]\n";

  it("is told for information where they need more than one battery, and where to change it", () => {
    checkFindings(
      `
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
passes: [{ name: red, times: 3 }, { name: blue }]
#                ^^^ information power: One battery of Slider with a two-axis head does not last for the 4 passes and the ways back between them: it is empty in pass red (3 of 3), and all need 1.94 Wh of the 1.44 Wh that it gives (80 % of 1.8 Wh); at 70 W on average it lasts 0.02 h; change it after pass red (2 of 3), and say so in a shoot.
keys:
  - { at: 0 s, axes: { slide: 0, plate: 0 }, aim: { at: lid } }
  - { at: 10 s, axes: { slide: 0.2 } }
`,
      { beside: small("1.8 Wh") },
    );
  });

  it("is told by the amount that a larger battery makes up for", () => {
    const [{ value, limit, severity }] = found("1.8 Wh", PASSES);
    assert.equal(severity, "information");
    assert.ok(value !== undefined && Math.abs(value - 7000 / 3600) < 1e-9);
    assert.ok(limit !== undefined && Math.abs(limit - 1.44) < 1e-9);
    const by = (share: number): string => `${(limit + share * (value - limit)) / 0.8} Wh`;
    assert.deepEqual(found(by(1.000001), PASSES), []);
    assert.equal(found(by(0.9), PASSES).length, 1);
  });

  it("is an error where one take is too long for a fresh battery, told at the last key", () => {
    // 700 J are 0.194 Wh.
    const [finding] = found("0.2 Wh", PASSES);
    assert.deepEqual([finding.severity, finding.key], ["error", "key 2"]);
    assert.match(finding.message, /does not last for one take: it needs 0\.194 Wh of the 0\.16 Wh/);
    assert.equal(found("0.2 Wh", "").length, 1);
    assert.deepEqual(found("0.25 Wh", ""), []);
  });

  it("leaves out a way back that is not driven, and counts one that the move times itself", () => {
    assert.deepEqual(found("1.8 Wh", `${PASSES}return: none\n`), []);
    const [{ value }] = found("1.8 Wh", `${PASSES}return: { time: 40 s }\n`);
    assert.ok(value !== undefined && Math.abs(value - (4 * 700 + 3 * 70 * 40) / 3600) < 1e-9, `${value}`);
  });
});
