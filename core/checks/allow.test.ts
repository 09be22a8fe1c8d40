import assert from "node:assert/strict";
import { parseTree } from "../syntax/parse.ts";
import { applyAllows, readAllows } from "./allow.ts";
import type { FindingCode } from "../base/finding-code.ts";
import type { PlacedFinding } from "./finding.ts";

const TEXT = `move: 1
# allow near-limit: the rig takes it
keys:
  - at: 0 s
    axes: { pan: 1 } # allow axis-speed: rehearsed at full speed
  # allow axis-range: the stop is off
  - at: 2 s
    axes: { pan: 2 }
    # allow axis-jerk
  - at: 4 s
    axes: { pan: 3 }
    allow: [{ code: axis-accel, reason: light head }]
    # a comment that says allow time for focus
passes: []
`;

const findingAt = (code: FindingCode, offset: number): PlacedFinding => ({
  code,
  severity: "error",
  message: code,
  place: { file: "a.move.yaml", span: { start: offset, end: offset + 1 } },
  related: [],
  cures: [],
});

const KEY = [1, 2, 3].map((value) => TEXT.indexOf(`pan: ${value}`));

function apply(findings: readonly PlacedFinding[], text = TEXT, hasMotion = true) {
  return applyAllows("a.move.yaml", readAllows(text, parseTree(text, "yaml")), findings, hasMotion);
}

describe("allow", () => {
  it("is about its key, the key below it, or the document", () => {
    const codes = readAllows(TEXT, parseTree(TEXT, "yaml")).map(({ code, reason, scope }) => ({
      code,
      reason,
      keys: KEY.map((offset) => scope.start <= offset && offset < scope.end),
    }));
    const expected = [
      { code: "axis-accel", reason: "light head", keys: [false, false, true] },
      { code: "near-limit", reason: "the rig takes it", keys: [true, true, true] },
      { code: "axis-speed", reason: "rehearsed at full speed", keys: [true, false, false] },
      { code: "axis-range", reason: "the stop is off", keys: [false, true, false] },
      { code: "axis-jerk", reason: "", keys: [false, true, false] },
    ];
    const byCode = (a: { code: string }, b: { code: string }): number => a.code.localeCompare(b.code);
    assert.deepEqual(codes.sort(byCode), expected.sort(byCode));
  });

  it("keeps an allowed finding as a hint with its reason, in its key only", () => {
    const { findings } = apply([findingAt("axis-speed", KEY[0]), findingAt("axis-speed", KEY[1])]);
    assert.deepEqual(
      findings.map(({ severity, allowed }) => [severity, allowed]),
      [
        ["hint", "rehearsed at full speed"],
        ["error", undefined],
      ],
    );
  });

  it("does not count without a reason, and says so", () => {
    const { findings, faults } = apply([findingAt("axis-jerk", KEY[1])]);
    assert.equal(findings[0].severity, "error");
    assert.match(faults.find((one) => one.message.includes("axis-jerk"))?.message ?? "", /needs its reason/);
  });

  it("is told when it allows nothing, once the motion has been looked at", () => {
    assert.equal(apply([]).faults.filter((one) => one.message.includes("allows nothing")).length, 4);
    assert.deepEqual(
      apply([], TEXT, false).faults.map((one) => one.message.includes("needs its reason")),
      [true],
    );
  });

  it("cannot allow a broken text and knows its codes", () => {
    const text = "move: 1\n# allow syntax: later\n# allow axis-sped: typing error\n";
    const { faults } = apply([], text);
    assert.match(faults[0].message, /cannot be allowed/);
    assert.match(faults[1].message, /no code of a finding/);
  });
});
