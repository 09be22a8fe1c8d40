import assert from "node:assert/strict";
import type { FindingCode, Severity } from "../../../core/base/finding-code.ts";
import type { AxisEffect, Effects, FindingReview, FindingState, MoveReview } from "../../../core/review/review.ts";
import { summaryOf } from "./move-summary.ts";

const FILE = "/pottery/lid.move.yaml";
const NONE: Effects = { duration: { before: 6, after: 6, dimension: "time" }, axes: [], framing: [] };

const REVIEW: MoveReview = {
  file: FILE,
  title: "Over the lid",
  state: "both",
  motion: "changed",
  isTextSame: false,
  problem: {},
  keys: [],
  fields: [],
  effects: NONE,
  findings: [],
  causes: [],
};

const axis = (name: string, before: number | undefined, after: number | undefined): AxisEffect => ({
  axis: name,
  type: "rotary",
  share: { before, after, dimension: "share" },
  of: { before: "speed", after: "speed" },
  at: { before: 1, after: 2 },
  largest: { value: 0.2, at: 2, dimension: "angle" },
});

function finding(state: FindingState, code: FindingCode, severity: Severity, more: { axis?: string; allowed?: string } = {}): FindingReview {
  const place = { file: FILE, span: { start: 0, end: 1 } };
  return { state, code, element: "keys.rise", finding: { code, severity, message: `${code} here`, place, related: [], cures: [], ...more } };
} // prettier-ignore

const worst = (more: Partial<MoveReview>): string => summaryOf({ ...REVIEW, ...more }).worst;
const level = (more: Partial<MoveReview>): string => summaryOf({ ...REVIEW, ...more }).level;

describe("a changed move in a few words", () => {
  it("is told by a new error first: that of a limit by its share, any other by its name", () => {
    const effects = { ...NONE, axes: [axis("pan", 0.82, 1.04), axis("tilt", 0.2, 0.9)] };
    const findings = [finding("new", "axis-speed", "error", { axis: "pan" })];
    assert.equal(worst({ effects, findings }), "pan speed 82 % → 104 %");
    const two = [...findings, finding("new", "axis-speed", "error", { axis: "pan" })];
    assert.equal(worst({ effects, findings: two }), "pan speed 82 % → 104 % and 1 more");
    assert.match(worst({ effects, findings: [finding("new", "clearance", "error")] }), /^new error: \S/);
    assert.equal(level({ effects, findings }), "error");
    assert.equal(summaryOf({ ...REVIEW, effects, findings }).lines[0], "new error: axis-speed here");
  });

  it("leaves out what somebody has allowed, what stays and what is gone", () => {
    const findings = [
      finding("new", "axis-speed", "error", { axis: "pan", allowed: "tried on the rig" }),
      finding("still", "axis-range", "error"),
      finding("gone", "axis-accel", "error"),
    ];
    assert.equal(level({ findings, motion: "same" }), "same");
    const { lines } = summaryOf({ ...REVIEW, findings });
    assert.deepEqual(lines, ["gone: axis-accel here"]);
  });

  it("is told by what weighs most, over all kinds: a tenth of a limit as much as 50 mm, 50 px or a tenth of the time", () => {
    const path = (value: number): Effects["path"] => {
      const change = { value, at: 3.1, dimension: "length" } as const;
      return { byTime: change, byShare: change };
    };
    const effects = { ...NONE, axes: [axis("pan", 0.3, 0.35)] };
    assert.equal(worst({ effects: { ...effects, path: path(0.0249) } }), "pan speed 30 % → 35 %");
    assert.equal(worst({ effects: { ...effects, path: path(0.042) } }), "camera path up to 42 mm at 3.1 s");
    const longer = { ...effects, duration: { before: 6, after: 9, dimension: "time" } as const };
    assert.equal(worst({ effects: longer }), "duration 6 s → 9 s");
    const framing = [{ target: "lid", largest: { value: 300, at: 1, dimension: "pixels" } as const }];
    assert.equal(worst({ effects: { ...longer, framing } }), "framing of lid up to 300 px at 1 s");
    assert.equal(level({ effects: longer }), "changed");
  });

  it("tells an unbounded share, a limit that is new and an axis whose share stays", () => {
    assert.equal(worst({ effects: { ...NONE, axes: [axis("pan", 0.5, Infinity)] } }), "pan speed 50 % → unbounded");
    assert.equal(worst({ effects: { ...NONE, axes: [axis("pan", undefined, 0.5)] } }), "pan speed no limit → 50 %");
    // 0.2 rad.
    assert.match(worst({ effects: { ...NONE, axes: [axis("pan", 0.5, 0.5)] } }), /^pan up to 11\.5 deg at 2 s$/);
  });

  it("says no motion change outright, and what came, went and can't be solved", () => {
    assert.equal(worst({ motion: "same", effects: undefined }), "no motion change");
    assert.equal(level({ motion: "same" }), "same");
    assert.deepEqual([worst({ state: "removed" }), worst({ state: "added" })], ["removed", "added"]);
    const problem = { after: "The rig is missing." };
    const broken: Partial<MoveReview> = { motion: "unknown", effects: undefined, problem };
    assert.deepEqual([level(broken), worst(broken)], ["unsolved", "can't be solved any more"]);
    assert.equal(worst({ ...broken, problem: { ...problem, before: "So it was." } }), "can't be solved");
    assert.ok(summaryOf({ ...REVIEW, ...broken }).lines.includes("It can't be solved: The rig is missing."));
  });

  it("names files that it is changed by, cuts long lists, and shows no letter that hides", () => {
    const keys = Array.from({ length: 40 }, (_, idx) => ({ key: `k${idx}`, state: "added", time: { dimension: "time" }, fields: [], place: {} }) as const); // prettier-ignore
    const { lines, title } = summaryOf({ ...REVIEW, title: "Lid\u202e\u001b[31m", keys, causes: ["/pottery/kit/floor.rig.yaml"] }); // prettier-ignore
    assert.equal(title, "Lid\\u202e\\x1b[31m");
    assert.ok(lines.includes("and 28 more"));
    assert.equal(lines[lines.length - 1], "changed by floor.rig.yaml");
  });
});
