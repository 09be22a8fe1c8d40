import assert from "node:assert/strict";
import { headOf, randomMoveText } from "../../../test/support/random-moves.ts";
import { apart, offersAt, rewritten, viewOf, type Marked } from "../../../test/support/rewritten.ts";
import { createInstantPair, differenceBetween } from "../instant-difference.ts";

const REVERSE = /^Reverse the move/;
const HEAD = headOf("crane");
const yaml = (text: string): Marked => ({ text: text.replace("move: 1", "mo|ve: 1"), file: "m.move.yaml" });
const json = (text: string): Marked => ({ text: text.replace('"move": 1', '"mo|ve": 1'), file: "m.move.json" });

/** How far the second move at T - t is from the first at t, at most, looked at 500 times [m, rad]. */
function backwardsApart(one: string, other: string, file: string): number {
  const [a, b] = [one, other].map((text) => {
    const { solved, analysis } = viewOf(text, file);
    assert.ok(solved, analysis.textFindings.map(({ message }) => message).join("; "));
    return solved.trajectory;
  });
  assert.ok(Math.abs(a.duration - b.duration) < 1e-6, `${a.duration} s and ${b.duration} s`);
  const pair = createInstantPair(a, b);
  const times = Array.from({ length: 501 }, (_, i) => (i * a.duration) / 500);
  return Math.max(...times.map((t) => differenceBetween(pair, t, "right", Math.max(0, a.duration - t), "left")));
}

/** The text of the move backwards, which is looked at as a whole. */
async function reversed(marked: Marked): Promise<string> {
  const made = await rewritten(marked, REVERSE);
  assert.ok("text" in made, "refusal" in made ? made.refusal : "");
  assert.ok(backwardsApart(marked.text.replace("|", ""), made.text, marked.file) < 1e-5, made.text);
  return made.text;
}

const disabledOf = (text: string): string | undefined =>
  offersAt(yaml(text)).offers.find(({ title }) => REVERSE.test(title))?.disabled;

describe("reversing a move", () => {
  const block = `${HEAD}keys: # in order
  # The beginning.
  - at: 0 s
    axes: { swing: -10, lift: 5 } # low
    aim: lid
  - at: 75 f # a third
    name: mid
    axes:
      swing: -4 # left
    # still at rest

  # Now faster.
  - after: 2 s
    axes: { swing: 4, lift: 7 }
    note: |
      stays

# end
`;
  const backwards = `${HEAD}keys: # in order
  # Now faster.
  - at: 0 s
    axes: { swing: 4, lift: 7 }
    note: |
      stays
    aim: lid
  - at: 50 f # a third
    name: mid
    axes:
      swing: -4 # left
    # still at rest

  # The beginning.
  - after: 3 s
    axes: { swing: -10, lift: 5 } # low
    aim: lid

# end
`;

  it("turns keys round with their comments; each place keeps the notation of its time", async () => {
    assert.equal(await reversed(yaml(block)), backwards);
  });

  it("keeps the line ends of the text, and a last line without one", async () => {
    const crlf = (text: string): string => text.replaceAll("\n", "\r\n");
    assert.equal(await reversed(yaml(crlf(block))), crlf(backwards));
    const short = `${HEAD}keys:\n  - { at: 0 s, axes: { swing: -10, lift: 5 }, aim: lid }\n  - { at: 3 s, axes: { swing: 4, lift: 7 }, aim: lid } # é`;
    assert.equal(
      await reversed(yaml(short)),
      `${HEAD}keys:\n  - { at: 0 s, axes: { swing: 4, lift: 7 }, aim: lid } # é\n  - { at: 3 s, axes: { swing: -10, lift: 5 }, aim: lid }`,
    );
  });

  it("works in flow with comments, and in JSON", async () => {
    const flow = `${HEAD}keys: [
  # first
  { at: 0, axes: { swing: -10, lift: 5 }, aim: lid }, # one
  { at: "00:00:02:00", axes: { swing: 0 } },
  { after: 1 s, axes: { swing: 4, lift: 7 }, aim: lid } # three
]
note: stays
`;
    assert.equal(
      await reversed(yaml(flow)),
      `${HEAD}keys: [
  { at: 0, axes: { swing: 4, lift: 7 }, aim: lid }, # three
  { at: "00:00:01:00", axes: { swing: 0 } },
  # first
  { after: 2 s, axes: { swing: -10, lift: 5 }, aim: lid } # one
]
note: stays
`,
    );
    const text = `{ "move": 1, "rig": "crane.rig.yaml", "camera": { "use": "a.camera.yaml", "lens": "wide" }, "set": "table.set.yaml",
  "keys": [
    { "axes": { "swing": -10, "lift": 5 }, "aim": { "at": "lid" } },
    { "at": "3 s", "ease": { "cubic": [0.3, 0, 0.4, 1], "ramp": "0.2 s" }, "axes": { "swing": 4, "lift": "7 deg" } }
  ] }`;
    assert.equal(
      await reversed(json(text)),
      text
        .replace(
          '{ "axes": { "swing": -10, "lift": 5 }, "aim": { "at": "lid" } }',
          '{ "at": "0 s", "axes": { "swing": 4, "lift": "7 deg" }, "aim": "lid" }',
        )
        .replace(
          '{ "at": "3 s", "ease": { "cubic": [0.3, 0, 0.4, 1], "ramp": "0.2 s" }, "axes": { "swing": 4, "lift": "7 deg" } }',
          '{ "at": "3 s", "axes": { "swing": -10, "lift": 5 }, "aim": { "at": "lid" }, "ease": { "cubic": [0.6, 0, 0.7, 1], "ramp": "0.2 s" } }',
        ),
    );
  });

  it("gives what shapes a way to the key at its other end", async () => {
    const text = `${headOf("telescope")}keys:
  - { at: 0 s, camera: { at: [1.5, -0.2, 1.2] }, aim: lid }
  - { at: 4 s, camera: { at: [1.52, 0.2, 1.25] }, path: line, aim: spout, switch: { begin: 20 %, ease: { linear: { ramp: 10 f } } }, hold: 1 s }
  - { after: 3 s, camera: { at: [1.5, 0, 1.1] }, path: { arc: { via: [1.45, 0.1, 1.2] } }, ease: { linear: { ramp: 0.5 s } } }
`;
    assert.equal(
      await reversed(yaml(text)),
      `${headOf("telescope")}keys:
  - { at: 0 s, camera: { at: [1.5, 0, 1.1] }, aim: spout }
  - { at: 3 s, camera: { at: [1.52, 0.2, 1.25] }, path: { arc: { via: [1.45, 0.1, 1.2] } }, aim: spout, hold: 1 s, ease: { linear: { ramp: 0.5 s } } }
  - { after: 4 s, camera: { at: [1.5, -0.2, 1.2] }, aim: lid, path: line, switch: { end: 80 %, ease: { linear: { ramp: 10 f } } } }
`,
    );
  });

  it("begins an aim where it ended, and ends it where it began", async () => {
    const text = `${headOf("slider")}keys:
  - { at: 0 s, axes: { slide: 0, pan: 5, tilt: -5 } }
  - { at: 2 s, axes: { slide: 0.2 }, aim: lid }
  - { at: 4 s, axes: { slide: 0.3 }, aim: none }
  - { at: 6 s, axes: { slide: 0.4, pan: -10, tilt: 0 } }
`;
    assert.equal(
      await reversed(yaml(text)),
      `${headOf("slider")}keys:
  - { at: 0 s, axes: { slide: 0.4, pan: -10, tilt: 0 } }
  - { at: 2 s, axes: { slide: 0.3 }, aim: lid }
  - { at: 4 s, axes: { slide: 0.2 }, aim: none }
  - { at: 6 s, axes: { slide: 0, pan: 5, tilt: -5 } }
`,
    );
  });

  it("counts the times of the move's own tests from the end, and turns another way back round", async () => {
    const keys = (swing: readonly number[]): string =>
      `keys:\n${swing.map((value, i) => `  - { at: ${3 * i} s, axes: { swing: ${value}, lift: 5 }, aim: lid }\n`).join("")}`;
    const text = `${HEAD}${keys([-10, 4])}expect:
  - { of: swing.speed, below: 25 deg/s, from: 1 s, to: 50 f }
  - { of: lid.distance, above: 0.2, to: 1 s } # near
  - { of: duration, below: 4 s }
return: { time: 5 s, via: [{ at: 20 %, axes: { lift: 9 } }, { at: 0.5, axes: { lift: 7 } }] }
`;
    assert.equal(
      await reversed(yaml(text)),
      `${HEAD}${keys([4, -10])}expect:
  - { of: swing.speed, below: 25 deg/s, from: 25 f, to: 2 s }
  - { of: lid.distance, above: 0.2, from: 2 s } # near
  - { of: duration, below: 4 s }
return: { time: 5 s, via: [{ at: 0.5, axes: { lift: 7 } }, { at: 80 %, axes: { lift: 9 } }] }
`,
    );
  });

  it("begins turns where they ended, whole turns from 0", async () => {
    const rig = `rig: 1
chain:
  - { axis: slide, type: linear, along: [1, 0, 0], origin: { at: [1.5, 0.4, 0.9] }, range: [-3, 3] }
  - { axis: across, type: linear, along: [0, 1, 0], range: [-3, 3] }
  - { axis: pan, type: rotary, along: [0, 0, 1], range: [-700, 700] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-95, 60] }
head: { pan: pan, tilt: tilt }
`;
    // Round the lid at [2, 0] from [1.5, 0.4] to [2.5, 0.4]: it ends at 180 deg + atan(0.4 / 0.5) = 218.65981 deg.
    const places = [
      [0, 0],
      [0, -0.8],
      [1, -0.8],
      [1, 0],
    ];
    const keys = places.map(
      ([slide, across], i) => `  - { at: ${4 * i} s, axes: { slide: ${slide}, across: ${across} }, aim: lid }\n`,
    );
    const text = `${HEAD.replace("crane", "plan")}near: { pan: -45 }\nkeys:\n${keys.join("")}`;
    const marked = { ...yaml(text), files: { "plan.rig.yaml": rig } };
    const made = await rewritten(marked, REVERSE);
    assert.ok("text" in made, "refusal" in made ? made.refusal : "");
    assert.match(made.text, /^near: \{ pan: 218\.65981, tilt: -?\d/m);
    const views = [text, made.text].map((each) => viewOf(each, "m.move.yaml", marked.files).solved!.trajectory);
    const pair = createInstantPair(views[0], views[1]);
    for (let t = 0; t <= 12; t += 0.25) assert.ok(differenceBetween(pair, t, "right", 12 - t, "left") < 1e-5);
  });

  it("says why not", () => {
    const two = (first: string, second: string): string =>
      `${HEAD}keys:\n  - { at: 0 s, axes: { swing: -10, lift: 5 }, aim: lid${first} }\n  - { at: 3 s, axes: { swing: 4 }, ease: minimum-jerk }\n  - { at: 6 s, axes: { swing: 5, lift: 7 }${second} }\n`;
    assert.equal(disabledOf(two("", "")), "Backwards, key 1 would need two `ease`: its eases go on to different keys.");
    const alias = `${HEAD}keys:\n  - { at: 0 s, axes: &a { swing: -10, lift: 5 }, aim: lid }\n  - { at: 3 s, axes: *a }\n`;
    assert.match(disabledOf(alias) ?? "", /repeat/);
    assert.equal(
      offersAt(yaml(`${HEAD}keys:\n  - { at: 0 s, axes: { swing: 0, lift: 0 }, aim: lid }\n`)).offers.length,
      0,
    );
  });

  it("goes backwards whatever the keys give, and twice is the move as it was", async () => {
    let made = 0;
    for (let seed = 1; seed <= 14; seed++) {
      const text = randomMoveText(seed);
      if (disabledOf(text) !== undefined) continue;
      const once = await reversed(yaml(text));
      const twice = await reversed(yaml(once));
      assert.ok(apart(text, twice, "m.move.yaml") < 2e-5, text);
      made++;
    }
    // The others would need two eases at one key.
    assert.ok(10 <= made, `${made} of 14`);
  });
});
