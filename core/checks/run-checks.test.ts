import assert from "node:assert/strict";
import { analyseFixture } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../base/task.ts";
import { analyse, analyseText, createMemo } from "./analyse.ts";
import type { Check } from "./check.ts";
import { runChecks } from "./run-checks.ts";

const MOVE = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
tolerance: { crossing: 1 s }
keys:
  - at: 0 s
    axes: { slide: 0, pan: 0, tilt: 0 }
  - at: 2 s
    axes: { pan: 36 }
`;

const sourcesOf = (move: string, more: Readonly<Record<string, string>> = {}) =>
  memorySources(new Map([...Object.entries({ ...KIT, ...more }), ["m.move.yaml", move]]));

describe("running the checks", () => {
  const trajectory = analyseFixture(`#- m.move.yaml\n${MOVE}`, KIT).get("m.move.yaml")?.trajectory;

  it("gives one internal-error for a check that throws and the findings of the others", () => {
    assert.ok(trajectory);
    const failing: Check = {
      code: "focus-near",
      // eslint-disable-next-line require-yield -- It fails before it could yield.
      *run() {
        throw new RangeError("a wrong index");
      },
    };
    const quiet: Check = {
      code: "axis-range",
      *run() {
        yield;
        return [];
      },
    };
    const findings = runToEnd(runChecks(trajectory, [failing, quiet]));
    assert.deepEqual(
      findings.map(({ code, facts }) => [code, facts.part, facts.cause]),
      [["internal-error", "The check focus-near", "a wrong index"]],
    );
  });

  it("yields now and then, so that a server can do other work", () => {
    assert.ok(trajectory);
    const task = runChecks(trajectory);
    let slices = 0;
    while (!task.next().done) slices += 1;
    assert.ok(slices > 10);
  });
});

describe("analysis", () => {
  it("shows the text at once and the motion after it", () => {
    const text = analyseText("m.move.yaml", sourcesOf(MOVE));
    assert.ok(text.move && text.origins && text.trajectory === undefined);
    assert.deepEqual([text.textFindings, text.motionFindings], [[], []]);
    const whole = runToEnd(analyse("m.move.yaml", sourcesOf(MOVE)));
    assert.deepEqual(
      whole.motionFindings.map(({ code }) => code),
      ["axis-speed"],
    );
    const kit = ["a.camera.yaml", "slider.rig.yaml", "table.set.yaml"];
    assert.deepEqual([...whole.inputs].sort(), [...kit, "m.move.yaml", "movewright.config.yaml"].sort());
  });

  it("does not solve again what only a comment or a blank line has moved, but places the findings anew", () => {
    const memo = createMemo();
    const before = runToEnd(analyse("m.move.yaml", sourcesOf(MOVE), memo));
    const after = runToEnd(analyse("m.move.yaml", sourcesOf(`# a comment\n\n${MOVE}`), memo));
    assert.equal(after.trajectory, before.trajectory);
    const moved = "# a comment\n\n".length;
    assert.equal(after.motionFindings[0].place.span.start, before.motionFindings[0].place.span.start + moved);
  });

  it("solves again when the move or a file that it uses has changed", () => {
    const memo = createMemo();
    const before = runToEnd(analyse("m.move.yaml", sourcesOf(MOVE), memo));
    const slower = runToEnd(analyse("m.move.yaml", sourcesOf(MOVE.replace("2 s", "3 s")), memo));
    assert.notEqual(slower.trajectory, before.trajectory);
    assert.deepEqual(slower.motionFindings, []);
    const rig = KIT["slider.rig.yaml"].replace("speed: 30", "speed: 40");
    const faster = runToEnd(analyse("m.move.yaml", sourcesOf(MOVE, { "slider.rig.yaml": rig }), memo));
    assert.deepEqual(faster.motionFindings, []);
  });

  it("gives the same findings whatever was analysed before", () => {
    const memo = createMemo();
    runToEnd(analyse("m.move.yaml", sourcesOf(MOVE.replace("36", "20")), memo));
    runToEnd(analyse("slider.rig.yaml", sourcesOf(MOVE), memo));
    const with_ = runToEnd(analyse("m.move.yaml", sourcesOf(MOVE), memo));
    const without = runToEnd(analyse("m.move.yaml", sourcesOf(MOVE)));
    assert.deepEqual(with_.motionFindings, without.motionFindings);
  });

  it("asks for files that nobody has read yet and gives no finding about them", () => {
    const known = sourcesOf(MOVE);
    const sources = {
      read: (file: string) => (file.endsWith(".rig.yaml") ? { state: "unread" as const } : known.read(file)),
    };
    const analysis = runToEnd(analyse("m.move.yaml", sources));
    assert.deepEqual(analysis.unread, ["slider.rig.yaml"]);
    assert.deepEqual(analysis.textFindings, []);
    assert.equal(analysis.move, undefined);
  });

  it("answers for a file that is not there or not ours", () => {
    const [missing] = runToEnd(analyse("none.move.yaml", sourcesOf(MOVE))).textFindings;
    assert.deepEqual([missing.code, missing.place.file], ["missing-file", "none.move.yaml"]);
    const other = runToEnd(analyse("notes.txt", sourcesOf(MOVE)));
    assert.equal(other.kind, undefined);
  });
});
