import assert from "node:assert/strict";
import { merge, MOVE, SET, swapped, type Swap } from "../../test/support/merge-sides.ts";

/** Merges swaps of both sides, which must end without a conflict in the base with some swaps. */
function clean(
  base: string,
  ours: readonly Swap[],
  theirs: readonly Swap[],
  both: readonly Swap[],
  file = "a.move.yaml",
): void {
  const made = merge(file, base, swapped(base, ...ours), swapped(base, ...theirs));
  assert.deepEqual(made, { text: swapped(base, ...both), conflicts: 0 });
}

/** The same, which must end in one conflict: in the base `at` is replaced by it. */
function clashing(
  base: string,
  ours: readonly Swap[],
  theirs: readonly Swap[],
  at: string,
  conflict: readonly [string, string],
  file = "a.move.yaml",
): void {
  const made = merge(file, base, swapped(base, ...ours), swapped(base, ...theirs));
  const marked = `<<<<<<< ours\n${conflict[0]}=======\n${conflict[1]}>>>>>>> theirs\n`;
  assert.deepEqual(made, { text: swapped(base, [at, marked]), conflicts: 1 });
}

describe("merging two changes of a document", () => {
  it("takes both where they change different fields, be it on one line", () => {
    const [ours, theirs]: Swap[] = [
      ["lift: 1 m", "lift: 1.5 m"],
      ["pan: 10", "pan: 12"],
    ];
    clean(MOVE, [ours], [theirs, ["at: 4 s", "at: 5 s"]], [ours, theirs, ["at: 4 s", "at: 5 s"]]);
    clean(MOVE, [ours], [["# start", "# begin"]], [ours, ["# start", "# begin"]]);
    clean(
      MOVE,
      [["name: b", "name: bee"]],
      [["pan: 20", "pan: 21"]],
      [
        ["name: b", "name: bee"],
        ["pan: 20", "pan: 21"],
      ],
    );
    const named: Swap = ["  - at: 4 s", "  - name: c\n    at: 4 s"];
    clean(MOVE, [named], [["pan: 30", "pan: 31"]], [named, ["pan: 30", "pan: 31"]]);
  });

  it("leaves a conflict on the lines alone where both changed one value to two", () => {
    clashing(
      MOVE,
      [["lift: 2 m", "lift: 2.5 m"]],
      [["lift: 2 m", "lift: 2.6 m"]],
      "    axes: { lift: 2 m, pan: 20 }\n",
      ["    axes: { lift: 2.5 m, pan: 20 }\n", "    axes: { lift: 2.6 m, pan: 20 }\n"],
    );
    clashing(
      SET,
      [["[1, 2, 3]", "[1, 2.5, 3]"]],
      [["[1, 2, 3]", "[1, 2, 3.5]"]],
      "  lid: { at: [1, 2, 3] }\n",
      ["  lid: { at: [1, 2.5, 3] }\n", "  lid: { at: [1, 2, 3.5] }\n"],
      "a.set.yaml",
    );
  });

  it("takes ours where both mean the same, and the side that changed the meaning where the other changed the unit", () => {
    // 12 in are 304.8 mm by definition of the inch (international yard and pound, 1959).
    const inch: Swap = ["lift: 2 m", "lift: 12 in"];
    clean(MOVE, [inch], [["lift: 2 m", "lift: 304.8 mm"]], [inch]);
    clean(MOVE, [["at: 2 s", "at: 75 f"]], [["at: 2 s", "at: 3 s"]], [["at: 2 s", "at: 75 f"]]);
    clean(MOVE, [["lift: 2 m", "lift: 200 cm"]], [["lift: 2 m", "lift: 2.5"]], [["lift: 2 m", "lift: 2.5"]]);
    clean(
      SET,
      [["[1, 2, 3]", "[1000 mm, 2, 3.5]"]],
      [["[1, 2, 3]", "[1, 2 m, 350 cm]"]],
      [["[1, 2, 3]", "[1000 mm, 2, 3.5]"]],
      "a.set.yaml",
    );
    // 1e-4 deg is a change.
    clashing(MOVE, [["pan: 20", "pan: 21"]], [["pan: 20", "pan: 21.0001"]], "    axes: { lift: 2 m, pan: 20 }\n", [
      "    axes: { lift: 2 m, pan: 21 }\n",
      "    axes: { lift: 2 m, pan: 21.0001 }\n",
    ]);
  });

  it("keeps the keys that both added, in order of time, each with its comments", () => {
    const mine = "  # mine\n  - at: 1 s\n    name: mine\n";
    const other = "  - at: 0.5 s # theirs\n    name: theirs\n";
    const above = "  # the second\n";
    clean(MOVE, [[above, mine + above]], [[above, other + above]], [[above, other + mine + above]]);
    clean(MOVE, [[above, mine + above]], [[above, mine + above]], [[above, mine + above]]);
    const late = "  - at: 1 s\n    name: other\n";
    const { text } = merge(
      "a.move.yaml",
      MOVE,
      swapped(MOVE, [above, mine + above]),
      swapped(MOVE, [above, late + above]),
    );
    assert.equal(text, swapped(MOVE, [above, `<<<<<<< ours\n${mine}=======\n${late}>>>>>>> theirs\n${above}`]));
  });

  it("leaves a conflict where keys that count from the one before are added at one place", () => {
    const base = "move: 1\nkeys:\n  - { at: 0 s, note: a }\n  - { after: 2 s, note: b }\n";
    const [mine, other] = ["  - { after: 1 s, note: c }\n", "  - { after: 0.5 s, note: d }\n"];
    const made = merge(
      "a.move.yaml",
      base,
      swapped(base, ["  - { after", `${mine}  - { after`]),
      swapped(base, ["  - { after", `${other}  - { after`]),
    );
    assert.equal(made.conflicts, 1);
    assert.ok(made.text.includes(`ours\n${mine}=======\n${other}>>`), made.text);
  });

  it("leaves a conflict where one removed the key that the other counts a time from", () => {
    const keys = ["  - { at: 0 s, note: a }\n", "  - { after: 2 s, note: b }\n", "  - { after: 2 s, note: c }\n"];
    const base = `move: 1\nkeys:\n${keys.join("")}`;
    const added = "  - { after: 1 s, note: d }\n";
    const made = merge("a.move.yaml", base, swapped(base, [keys[1], ""]), swapped(base, [keys[1], keys[1] + added]));
    const conflict = `<<<<<<< ours\n=======\n${keys[1]}>>>>>>> theirs\n${added}`;
    assert.deepEqual(made, { text: swapped(base, [keys[1], conflict]), conflicts: 1 });
    const retimed = merge(
      "a.move.yaml",
      base,
      swapped(base, [keys[1], ""]),
      swapped(base, [keys[2], keys[2].replace("2", "3")]),
    );
    assert.equal(retimed.conflicts, 1);
    clean(
      base,
      [[keys[1], ""]],
      [["note: c", "note: e"]],
      [
        [keys[1], ""],
        ["note: c", "note: e"],
      ],
    );
  });

  it("leaves a conflict where one removed what the other changed, and takes away what nobody changed", () => {
    const last = "  - at: 4 s\n    axes: { lift: 3 m, pan: 30 }\n";
    clashing(MOVE, [[last, ""]], [["pan: 30", "pan: 31"]], last, ["", last.replace("30", "31")]);
    clean(
      MOVE,
      [[last, ""]],
      [["pan: 20", "pan: 21"]],
      [
        [last, ""],
        ["pan: 20", "pan: 21"],
      ],
    );
    clean(
      MOVE,
      [["passes:\n  - { name: one, times: 2 }\n", ""]],
      [["# start", "# begin"]],
      [
        ["passes:\n  - { name: one, times: 2 }\n", ""],
        ["# start", "# begin"],
      ],
    );
  });

  it("leaves a conflict where times that both changed would cross, or a hold would reach over a key", () => {
    const two = "  - at: 2 s\n    name: b\n    axes: { lift: 2 m, pan: 20 }\n  - at: 4 s\n";
    const [mine, other] = [two.replace("2 s", "3.5 s"), two.replace("4 s", "3.2 s")];
    clashing(MOVE, [["at: 2 s", "at: 3.5 s"]], [["at: 4 s", "at: 3.2 s"]], two, [mine, other]);
    const held = "  - { at: 0 s, name: a }\n  - { at: 4 s, name: b }\n";
    const base = `move: 1\nkeys:\n${held}`;
    clashing(base, [["name: a", "name: a, hold: 3 s"]], [["at: 4 s", "at: 2.5 s"]], held, [
      held.replace("name: a", "name: a, hold: 3 s"),
      held.replace("at: 4 s", "at: 2.5 s"),
    ]);
  });

  it("follows a side that puts items into another order", () => {
    const links = [
      "  - axis: a\n    type: linear\n",
      "  - axis: b\n    type: rotary\n",
      "  - axis: c\n    type: rotary\n",
    ];
    const rig = (...order: number[]): string => `rig: 1\nchain:\n${order.map((i) => links[i]).join("")}`;
    const theirs = swapped(rig(0, 1, 2), [links[2], `${links[2]}    note: hey\n`]);
    const made = merge("a.rig.yaml", rig(0, 1, 2), rig(1, 0, 2), theirs);
    assert.deepEqual(made, { text: `${rig(1, 0, 2)}    note: hey\n`, conflicts: 0 });
    assert.equal(merge("a.rig.yaml", rig(0, 1, 2), rig(1, 0, 2), rig(0, 2, 1)).conflicts, 1);
    // The order of links is the rig: two that are added at one place have none.
    const added = (name: string): string => `${rig(0)}  - axis: ${name}\n    type: rotary\n`;
    assert.equal(merge("a.rig.yaml", rig(0), added("x"), added("y")).conflicts, 1);
  });

  it("puts what both added to a map or a set of things side by side", () => {
    const [pot, jar] = ["  pot: { at: [0, 0, 0] }\n", "  jar: { at: [0, 0, 1] }\n"];
    assert.equal(merge("a.set.yaml", SET, SET + pot, SET + jar).text, SET + pot + jar);
    const [two, three] = ["  - { name: two }\n", "  - { name: three } # x\n"];
    assert.equal(
      merge("a.move.yaml", MOVE, MOVE + two, `${MOVE}${three}note: hey\n`).text,
      `${MOVE}${two}${three}note: hey\n`,
    );
    clashing(
      MOVE,
      [["axes: { lift: 3 m, pan: 30 }", "axes: { lift: 3 m, pan: 30 }\n    name: top"]],
      [["    name: b", "    name: top"]],
      MOVE.slice(MOVE.indexOf("    name: b"), MOVE.indexOf("passes")),
      [
        "    name: b\n    axes: { lift: 2 m, pan: 20 }\n  - at: 4 s\n    axes: { lift: 3 m, pan: 30 }\n    name: top\n",
        "    name: top\n    axes: { lift: 2 m, pan: 20 }\n  - at: 4 s\n    axes: { lift: 3 m, pan: 30 }\n",
      ],
    );
  });

  it("merges documents that both sides added", () => {
    const made = merge("a.set.yaml", "", SET, swapped(SET, ["cup:", "mug:"]));
    assert.equal(
      made.text,
      `set: 1\ntargets:\n  lid: { at: [1, 2, 3] }\n  cup: { at: [1, 2, 4] } # the cup\n  mug: { at: [1, 2, 4] } # the cup\n`,
    );
    assert.equal(merge("a.set.yaml", undefined, SET, swapped(SET, ["[1, 2, 4]", "[1, 2, 5]"])).conflicts, 1);
  });

  it("keeps the comments of a side that lays out anew, or leaves a conflict", () => {
    const lines = "lid:\n    at: [1, 2, 3]";
    clean(
      SET,
      [["lid: { at: [1, 2, 3] }", lines]],
      [["[1, 2, 3]", "[1, 2, 4]"]],
      [["[1, 2, 3]", "[1, 2, 4]"]],
      "a.set.yaml",
    );
    clashing(
      SET,
      [["lid: { at: [1, 2, 3] }", "lid:\n    # here\n    at: [1, 2, 3]"]],
      [["[1, 2, 3]", "[1, 2, 4]"]],
      "  lid: { at: [1, 2, 3] }\n",
      ["  lid:\n    # here\n    at: [1, 2, 3]\n", "  lid: { at: [1, 2, 4] }\n"],
      "a.set.yaml",
    );
    clean(
      MOVE,
      [["# the second", "# the second\n  # why"]],
      [["# the second", "# the second\n  # because"]],
      [["# the second", "# the second\n  # why\n  # because"]],
    );
    // Items of another side come in the columns of the one that moved them.
    const wide = MOVE.replace(/^ {2}/gm, "     ");
    const added = "  - at: 6 s\n    axes:\n      lift: 3\n";
    const made = merge("a.move.yaml", MOVE, wide, swapped(MOVE, ["passes:", `${added}passes:`]));
    assert.equal(made.text, swapped(wide, ["passes:", `${added.replace(/^ {2}/gm, "     ")}passes:`]));
  });

  it("puts commas where JSON needs them, whichever side is chosen", () => {
    const base = JSON.stringify(
      {
        move: 1,
        keys: [
          { at: 0, axes: { lift: 1, pan: 2 } },
          { at: 2, axes: { lift: 3 } },
        ],
      },
      null,
      2,
    );
    const theirs = swapped(
      base,
      ['"pan": 2', '"pan": 2,\n        "tilt": 4'],
      ['"lift": 3\n      }\n    }', '"lift": 3\n      }\n    },\n    { "at": 3 }'],
    );
    const made = merge(
      "a.move.json",
      base,
      swapped(base, ['"lift": 1', '"lift": 1.5'], ['"at": 0', '"at": 0,\n      "name": "a"']),
      theirs,
    );
    assert.deepEqual(JSON.parse(made.text), {
      move: 1,
      keys: [{ at: 0, name: "a", axes: { lift: 1.5, pan: 2, tilt: 4 } }, { at: 2, axes: { lift: 3 } }, { at: 3 }],
    });
    const without = base.replace(/,\n {4}\{\n {6}"at": 2[^]*?\n {4}\}/, "");
    const left = merge("a.move.json", base, swapped(base, ['"lift": 3', '"lift": 4']), without);
    assert.equal(left.conflicts, 1);
    const keys = (text: string): number => (JSON.parse(text) as { keys: unknown[] }).keys.length;
    assert.equal(keys(left.text.replace(/={7}[^]*>{7}.*\n/, "").replace(/<{7}.*\n/, "")), 2);
    assert.equal(keys(left.text.replace(/<{7}[^]*={7}\n/, "").replace(/>{7}.*\n/, "")), 1);
  });
});
