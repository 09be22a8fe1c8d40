import assert from "node:assert/strict";
import { checkFindings } from "../../test/fixtures/annotated.ts";
import { findingsIn, type Documents } from "../../test/fixtures/cured.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../base/task.ts";
import type { Sources } from "../model/sources.ts";
import { analyse, analyseText, createMemo } from "./analyse.ts";

const move = (slide: number, rig = "slider"): string => `move: 1
rig: ${rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, name: begin, axes: { slide: 0, plate: 0 }, aim: { at: lid } }
  - { at: 6 s, name: end, axes: { slide: ${slide} } }
`;

const SHOOT = `shoot: 1
shots: [{ move: a.move.yaml }, { move: b.move.yaml }, { move: a.move.yaml }]
match: [{ from: "a.move.yaml#end", to: "b.move.yaml#end", about: lid }]
`;

const DAY: Documents = { ...KIT, "a.move.yaml": move(0.2), "b.move.yaml": move(0.3), "d.shoot.yaml": SHOOT };

const sourcesOf = (documents: Documents): Sources => memorySources(new Map(Object.entries(documents)));

describe("analysis of a shoot", () => {
  it("takes the motion of moves from the memo and leaves it there, so that no move is solved twice", () => {
    const memo = createMemo();
    const sources = sourcesOf(DAY);
    runToEnd(analyse("a.move.yaml", sources, memo));
    const known = memo.last("a.move.yaml");
    const { motionFindings } = runToEnd(analyse("d.shoot.yaml", sources, memo));
    assert.deepEqual(
      motionFindings.map(({ code }) => code),
      ["match"],
    );
    assert.ok(known && memo.last("a.move.yaml") === known);
    const left = memo.last("b.move.yaml");
    assert.ok(left?.trajectory);
    const alone = runToEnd(analyse("b.move.yaml", sources, memo));
    assert.equal(alone.trajectory, left.trajectory);
    // An edit of one move solves that one alone.
    runToEnd(analyse("d.shoot.yaml", sourcesOf({ ...DAY, "b.move.yaml": move(0.25) }), memo));
    assert.ok(memo.last("a.move.yaml") === known && memo.last("b.move.yaml") !== left);
  });

  it("hangs on all that its moves name, and asks for what is not read yet", () => {
    const files = ["d.shoot.yaml", "a.move.yaml", "b.move.yaml", "slider.rig.yaml", "a.camera.yaml", "table.set.yaml"];
    const whole = runToEnd(analyse("d.shoot.yaml", sourcesOf(DAY)));
    for (const file of files) assert.ok(whole.inputs.includes(file), file);
    assert.deepEqual(whole.unread, []);
    const without: Sources = {
      read: (file) => (file === "slider.rig.yaml" ? { state: "unread" } : sourcesOf(DAY).read(file)),
    };
    const waiting = runToEnd(analyse("d.shoot.yaml", without));
    assert.deepEqual([waiting.unread, waiting.textFindings, waiting.motionFindings], [["slider.rig.yaml"], [], []]);
  });

  it("goes in steps, its moves one by one", () => {
    const task = analyse("d.shoot.yaml", sourcesOf(DAY));
    let steps = 0;
    while (!task.next().done) steps += 1;
    assert.ok(20 < steps, `${steps}`);
  });

  it("says of a move that cannot be resolved one thing where it is named first, and checks the others", () => {
    checkFindings(
      `
#- d.shoot.yaml
shoot: 1
shots:
  - { move: a.move.yaml }
  - { move: bad.move.yaml }
#           ^^^^^^^^^^^^^ error missing-file: \`bad.move.yaml\` has an error of its own, so what it says is not complete. The first: \`gone.rig.yaml\` names no file: there is no \`gone.rig.yaml\`. Paths are relative to this document.
  - { move: bad.move.yaml }
  - { move: none.move.yaml }
#           ^^^^^^^^^^^^^^ error missing-file: \`none.move.yaml\` names no file: there is no \`none.move.yaml\`. Paths are relative to this document.
match:
  - { from: bad.move.yaml#end, to: b.move.yaml#end, about: lid }
  - { from: a.move.yaml#end, to: b.move.yaml#end, about: lid }
#                                ^^^^^^^^^^^^^^^ warning match: The cut from a.move.yaml#end to b.move.yaml#end does not match about lid: …
`,
      { beside: { ...DAY, "bad.move.yaml": move(0.2, "gone") } },
    );
  });

  it("does without a text that is not well formed, and without moves that have no power stated", () => {
    const torn = findingsIn({ ...DAY, "d.shoot.yaml": `${SHOOT}note: "open\n` }, "d.shoot.yaml");
    assert.deepEqual([...new Set(torn.map(({ code }) => code))], ["syntax"]);
    const { motionFindings, shoot } = analyseText("d.shoot.yaml", sourcesOf(DAY));
    assert.deepEqual([motionFindings, shoot?.shots.length, shoot?.moves.length], [[], 3, 2]);
  });

  it("tells an allow that allows nothing once the motion has been looked at, not before", () => {
    const day = { ...DAY, "d.shoot.yaml": `${SHOOT}allow: [{ code: power, reason: it is charged }]\n` };
    assert.deepEqual(analyseText("d.shoot.yaml", sourcesOf(day)).textFindings, []);
    const codes = findingsIn(day, "d.shoot.yaml").map(({ code }) => code);
    assert.deepEqual(codes, ["allow", "match"]);
  });
});
