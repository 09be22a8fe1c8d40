import assert from "node:assert/strict";
import { checkFindings } from "../../test/fixtures/annotated.ts";
import { findingsIn, type Documents } from "../../test/fixtures/cured.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../base/task.ts";
import { analyse, createMemo } from "./analyse.ts";

const under = (folder: string, documents: Documents): Documents =>
  Object.fromEntries(Object.entries(documents).map(([name, text]) => [`${folder}/${name}`, text]));

/** Turns too fast on the way to key 2, and near a limit on the way to key 3. */
const FAST = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
tolerance: { crossing: 1 s }
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 2 s, axes: { slide: 0, pan: 46, tilt: 0 }, stop: true }
`;

const config = (...lines: string[]): string => `config: 1\nseverity:\n${lines.map((line) => `  ${line}\n`).join("")}`;

const KINDS = { ...under("/shop/day/kit", KIT), "/shop/day/kit/m.move.yaml": FAST };

const severities = (documents: Documents): string[] =>
  [
    ...new Set(findingsIn(documents, "/shop/day/kit/m.move.yaml").map(({ code, severity }) => `${code} ${severity}`)),
  ].sort();

describe("severities of a workspace", () => {
  it("are the catalogue's without a config", () => {
    assert.deepEqual(severities(KINDS), ["axis-accel error", "axis-speed error"]);
  });

  it("hold in the folder of the config and all below", () => {
    const documents = { ...KINDS, "/shop/movewright.config.yaml": config("axis-speed: warning", "axis-accel: off") };
    assert.deepEqual(severities(documents), ["axis-speed warning"]);
  });

  it("are overridden code by code by a config in a folder below", () => {
    const documents = {
      ...KINDS,
      "/shop/movewright.config.yaml": config("axis-speed: warning", "axis-accel: off"),
      "/shop/day/movewright.config.yaml": config("axis-accel: information"),
      "/shop/day/other/movewright.config.yaml": config("axis-speed: off"),
    };
    assert.deepEqual(severities(documents), ["axis-accel information", "axis-speed warning"]);
  });

  it("leave an allowed finding a hint, and an allow for what is off counts", () => {
    const allowed = FAST.replace(
      "keys:",
      "allow: [{ code: axis-speed, reason: rehearsed }, { code: axis-accel, reason: rehearsed }]\nkeys:",
    );
    const documents = {
      ...KINDS,
      "/shop/day/kit/m.move.yaml": allowed,
      "/shop/movewright.config.yaml": config("axis-speed: error", "axis-accel: off"),
    };
    assert.deepEqual(severities(documents), ["axis-speed hint"]);
  });

  it("also hold for findings of the text, and make the check of an allow as strict as wanted", () => {
    const idle = FAST.replace("keys:", "# allow aim-spin: never\ncolour: red\nkeys:").replace("pan: 46", "pan: 6");
    const documents = {
      ...KINDS,
      "/shop/day/kit/m.move.yaml": idle,
      "/shop/movewright.config.yaml": config("unknown-field: hint", "allow: error"),
    };
    assert.deepEqual(severities(documents), ["allow error", "unknown-field hint"]);
  });

  it("are read anew when the config changes, and every place where a config may stand is an input", () => {
    const memo = createMemo();
    const find = (documents: Documents) => {
      const sources = memorySources(new Map(Object.entries(documents)));
      return runToEnd(analyse("/shop/day/kit/m.move.yaml", sources, memo));
    };
    const before = find(KINDS);
    const configs = before.inputs.filter((file) => file.endsWith("movewright.config.yaml")).sort();
    assert.deepEqual(
      configs,
      ["", "/shop", "/shop/day", "/shop/day/kit"].map((folder) => `${folder}/movewright.config.yaml`).sort(),
    );
    const after = find({ ...KINDS, "/movewright.config.yaml": config("axis-speed: off", "axis-accel: off") });
    assert.deepEqual([before.motionFindings.length > 0, after.motionFindings.length], [true, 0]);
    assert.equal(after.trajectory, before.trajectory, "the motion is not solved again");
  });

  it("have findings of their own where the config is wrong", () => {
    checkFindings(`#- movewright.config.yaml
config: 1
severity:
  axis-speed: loud
#             ^^^^ error wrong-type: \`axis-speed\` cannot be \`loud\`; \`error\`, \`warning\`, \`information\`, \`hint\` or \`off\` is expected.
  axis-sped: off
# ^^^^^^^^^ error unknown-field: \`severity\` has no field \`axis-sped\`. Did you mean \`axis-speed\`?
  people: off
#         ^^^ error wrong-type: \`people\` cannot be off, as it concerns people: \`hint\` is the least.
  syntax: hint
#         ^^^^ error wrong-type: \`syntax\` stays an error, as \`syntax\`, \`internal-error\`, \`too-large\`, \`too-deep\` and \`too-many-aliases\` do: then something was not checked at all. Mend what it names.
  tip-over: hint
`);
  });

  it("count only under the one name", () => {
    checkFindings(`#- movewright.config.yml
config: 1
#<^ error wrong-kind: A config counts only as \`movewright.config.yaml\`, so nothing reads \`movewright.config.yml\`: rename it.
severity: { axis-speed: off }
`);
  });

  it("are not taken from a broken config, but the rest of it counts", () => {
    const documents = {
      ...KINDS,
      "/shop/movewright.config.yaml": config("axis-speed: loud", "axis-accel: hint", "people: off"),
    };
    assert.deepEqual(severities(documents), ["axis-accel hint", "axis-speed error"]);
  });
});
