import assert from "node:assert/strict";
import { SETTINGS } from "../../protocol/settings.ts";
import { readSettings } from "./settings.ts";

const DEFAULTS = readSettings(undefined).settings;

describe("settings", () => {
  it("are by themselves what the table says", () => {
    for (const section of [undefined, null, {}, { inlayHints: {} }, { inlayHints: null, checkWorkspace: null }]) {
      const { settings, faults } = readSettings(section);
      assert.deepEqual(faults, [], JSON.stringify(section));
      assert.deepEqual(settings, DEFAULTS);
    }
    assert.deepEqual(Object.keys(DEFAULTS), Object.keys(SETTINGS));
    assert.equal(DEFAULTS.checkWorkspace, true);
    assert.equal(DEFAULTS["problems.limit"], 500);
  });

  it("are read in groups, and by names with dots", () => {
    for (const section of [
      { checkWorkspace: false, inlayHints: { times: false }, problems: { limit: 20 }, trace: { server: "verbose" } },
      { checkWorkspace: false, "inlayHints.times": false, "problems.limit": 20, "trace.server": "verbose" },
    ]) {
      const { settings, faults } = readSettings(section);
      assert.deepEqual(faults, []);
      const changed = { checkWorkspace: false, "inlayHints.times": false, "problems.limit": 20 };
      assert.deepEqual(settings, { ...DEFAULTS, ...changed, "trace.server": "verbose" });
    }
  });

  const faulty: readonly (readonly [section: unknown, fault: string])[] = [
    [
      { checkWorkspace: "no" },
      'The setting `movewright.checkWorkspace` is `"no"`: use `true` or `false`. Until then it is `true`.',
    ],
    [
      { inlayHints: { times: 1 } },
      "The setting `movewright.inlayHints.times` is `1`: use `true` or `false`. Until then it is `true`.",
    ],
    [
      { problems: { limit: 9 } },
      "The setting `movewright.problems.limit` is `9`: use a whole number from 10 to 10000. Until then it is `500`.",
    ],
    [
      { problems: { limit: 20.5 } },
      "The setting `movewright.problems.limit` is `20.5`: use a whole number from 10 to 10000. Until then it is `500`.",
    ],
    [
      { problems: { limit: "20" } },
      'The setting `movewright.problems.limit` is `"20"`: use a whole number from 10 to 10000. Until then it is `500`.',
    ],
    [
      { trace: { server: "constructor" } },
      'The setting `movewright.trace.server` is `"constructor"`: use `off`, `messages` or `verbose`. Until then it is `"off"`.',
    ],
    [
      { inlayHint: { times: false } },
      "There is no setting `movewright.inlayHint.times`. Did you mean `movewright.inlayHints.times`?",
    ],
    [
      { chekWorkspace: false },
      "There is no setting `movewright.chekWorkspace`. Did you mean `movewright.checkWorkspace`?",
    ],
    [{ teapots: 3 }, "There is no setting `movewright.teapots`. It does nothing: take it out."],
    [{ __proto__x: {} }, "There is no setting `movewright.__proto__x`. It does nothing: take it out."],
    [
      { problems: false },
      "The setting `movewright.problems` is `false`, but it is a group of settings: use `movewright.problems.limit`.",
    ],
    [[true], "The setting `movewright` is `[true]`: settings by their names are expected."],
    [
      { checkWorkspace: "x".repeat(99) },
      `The setting \`movewright.checkWorkspace\` is \`"${"x".repeat(39)}…\`: use \`true\` or \`false\`. Until then it is \`true\`.`,
    ],
  ];
  for (const [section, fault] of faulty) {
    it(`say: ${fault.slice(0, 90)}`, () => {
      const { settings, faults } = readSettings(section);
      assert.deepEqual(faults, [fault]);
      assert.deepEqual(settings, DEFAULTS);
    });
  }

  it("that can be used are used beside those that can't", () => {
    const { settings, faults } = readSettings({ checkWorkspace: false, inlayHints: { times: "no", peaks: false } });
    assert.equal(faults.length, 1);
    assert.deepEqual(settings, { ...DEFAULTS, checkWorkspace: false, "inlayHints.peaks": false });
  });
});
