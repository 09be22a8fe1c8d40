import assert from "node:assert/strict";
import { headOf } from "../../../test/support/random-moves.ts";
import { assertRewritten, offersAt, viewOf } from "../../../test/support/rewritten.ts";
import { RATES } from "../../base/rate.ts";
import { applyEdits } from "../apply-edits.ts";
import { readAmount, shiftKeys } from "./shift-keys.ts";

const HEAD = headOf("crane");
const yamlKeys = (...times: string[]): string =>
  `keys:\n${times.map((time, i) => `  - ${time} # t${i}\n    axes: { swing: ${i}, lift: 0 }\n    aim: lid\n`).join("")}`;

function shifted(text: string, key: number, by: number, file = "m.move.yaml"): string {
  const view = viewOf(text, file);
  assert.ok(view.solved, view.analysis.textFindings.map(({ message }) => message).join("; "));
  const made = shiftKeys({ text, tree: view.tree, move: view.solved.move }, key, by);
  return "refusal" in made ? made.refusal : applyEdits(text, made.edits);
}

describe("shifting a key and all later ones", () => {
  it("writes each time in its notation, where that can say it, and leaves what counts from the key before", () => {
    const text = HEAD + yamlKeys("at: 0 s", "at: 50 f", "after: 1 s", "at: 00:00:05:00", "at: '6500 ms'");
    assert.equal(
      shifted(text, 1, 0.4),
      HEAD + yamlKeys("at: 0 s", "at: 60 f", "after: 1 s", "at: 00:00:05:10", "at: '6900 ms'"),
    );
    assert.equal(
      shifted(text, 2, -0.5),
      HEAD + yamlKeys("at: 0 s", "at: 50 f", "after: 0.5 s", "at: 4.5 s", "at: '6000 ms'"),
    );
    const crlf = (lines: string): string => lines.replaceAll("\n", "\r\n");
    assert.equal(shifted(crlf(text), 4, 1), crlf(text.replace("6500", "7500")));
  });

  it("keeps JSON well formed, and labels that count from another start", () => {
    const text = `{ "move": 1, "rig": "crane.rig.yaml", "camera": { "use": "a.camera.yaml", "lens": "wide" }, "set": "table.set.yaml", "rate": 25, "start": "01:00:00:00",
  "keys": [
    { "at": 0, "axes": { "swing": 0, "lift": 0 }, "aim": "lid" },
    { "at": 2, "axes": { "swing": 1 } },
    { "at": "01:00:04:00", "axes": { "swing": 2 } }
  ] }`;
    const after = shifted(text, 1, 0.2, "m.move.json");
    assert.equal(after, text.replace('"at": 2,', '"at": 2.2,').replace("01:00:04:00", "01:00:04:05"));
    assert.doesNotThrow(() => JSON.parse(after));
  });

  it("takes the move's own tests along: those from then on by as much, those on the way as far as it leads", () => {
    const tests = (...times: string[]): string =>
      `expect:\n${times.map((time) => `  - { of: swing.speed, below: 25 deg/s, ${time} }\n`).join("")}`;
    const text =
      HEAD +
      yamlKeys("at: 0 s", "at: 2 s", "at: 4 s") +
      tests("at: 1 s", "from: 2 s, to: 3.5 s", "from: 3.8 s, to: 4 s");
    // The key at 4 s comes at 3 s.
    assert.equal(
      shifted(text, 2, -1),
      HEAD + yamlKeys("at: 0 s", "at: 2 s", "at: 3 s") + tests("at: 1 s", "from: 2 s, to: 3 s", "from: 3 s, to: 3 s"),
    );
    assert.equal(
      shifted(text, 1, 1),
      HEAD +
        yamlKeys("at: 0 s", "at: 3 s", "at: 5 s") +
        tests("at: 1 s", "from: 3 s, to: 4.5 s", "from: 4.8 s, to: 5 s"),
    );
  });

  it("says why not", () => {
    const text = HEAD + yamlKeys("at: 0 s", "at: 2 s\n    hold: 1 s", "at: 4 s");
    assert.equal(shifted(text, 2, -1), "`key 3` can come earlier by less than 1 s: `key 2` is held until 3 s");
    assert.equal(shifted(text, 1, -3), "`key 2` can come earlier by less than 2 s: `key 1` is at 0 s");
    assert.match(shifted(text, 0, 1), /^a move begins with its first key, `key 1`/);
    const alias = HEAD + yamlKeys("at: 0 s", "after: &t 4 s", "after: *t");
    assert.match(shifted(alias, 1, 1), /^the time of key 2 is repeated elsewhere/);
  });
});

describe("a key that does not come after the one before", () => {
  it("comes a second after it, and all later ones along", async () => {
    for (const [before, after] of [
      [
        ["at: 0 s", "at: 4 s", "at: 3 s", "after: 1 s", "at: 5.5 s"],
        ["at: 0 s", "at: 4 s", "at: 5 s", "after: 1 s", "at: 7.5 s"],
      ],
      [
        ["at: 0 s", "at: 2 s\n    hold: 2 s", "at: 75 f"],
        ["at: 0 s", "at: 2 s\n    hold: 2 s", "at: 125 f"],
      ],
      [
        ["at: 0 s", "at: 2 s", "after: 0 s"],
        ["at: 0 s", "at: 2 s", "after: 1 s"],
      ],
    ]) {
      const text = HEAD + yamlKeys(...before);
      const marked = { text: text.replace("# t2", "# t|2"), file: "m.move.yaml" };
      await assertRewritten(
        marked,
        /^Let this key come 1 s after the one before, and all later ones along$/,
        HEAD + yamlKeys(...after),
      );
    }
    const sound = HEAD + yamlKeys("at: 0 s", "at: 2 s", "at: 3 s");
    assert.ok(
      !offersAt({ text: sound.replace("# t2", "# t|2"), file: "m.move.yaml" }).offers.some(
        ({ id }) => id === "shift-behind",
      ),
    );
  });
});

describe("amounts of time", () => {
  it("are read with their sign, in every notation", () => {
    for (const [written, seconds] of [
      ["1.5 s", 1.5],
      ["-12 f", -0.48],
      ["+ 250 ms", 0.25],
      ["2", 2],
      ["-00:00:01:05", -1.2],
    ] as const) {
      const read = readAmount(written, { rate: RATES["25"] });
      assert.ok(read.ok && Math.abs(read.value - seconds) < 1e-12, written);
    }
    for (const written of ["", "-", "soon", "3 m", "00:00:01:30"]) {
      const read = readAmount(written, { rate: RATES["25"] });
      assert.ok(!read.ok && read.message.length > 10, written);
    }
  });
});
