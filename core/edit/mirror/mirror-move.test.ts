import assert from "node:assert/strict";
import { headOf, randomMoveText } from "../../../test/support/random-moves.ts";
import { apart, offersAt, rewritten, viewOf, type Marked } from "../../../test/support/rewritten.ts";
import { armOnTrack } from "../../../test/support/moves.ts";
import { floorRig, slidingArm } from "../../../test/support/rigs.ts";
import { jointSigns } from "./mirror-axes.ts";

const BASE = /^Mirror the move about the middle of the rig's base/;
const THROUGH = /^Mirror the move about the upright plane through the base and/;
const SET = /^Mirror the move about the upright plane through `\w+` along x/;
const HEAD = headOf("crane");
/** The spout's other side. */
const SET_OF_TWO = `set: 1
targets:
  lid: { at: [2, 0, 1.1] }
  spout: { at: [2, 0.4, 1.0] }
  handle: { at: [2, -0.4, 1.0] }
  knob: { at: [0.1, 0.05, 0.2], on: plate }
turntables:
  plate: { at: [2, 0, 0.9], along: [0, 0, 1], range: [-90, 90], limits: { speed: 40, accel: 80, jerk: 400 } }
`;
const files = { "table.set.yaml": SET_OF_TWO };
const yaml = (text: string): Marked => ({ text: text.replace("move: 1", "mo|ve: 1"), file: "m.move.yaml", files });

async function mirrored(marked: Marked, title: RegExp): Promise<string> {
  const made = await rewritten(marked, title);
  assert.ok("text" in made, "refusal" in made ? made.refusal : "");
  return made.text;
}

describe("mirroring a move", () => {
  it("turns signs, framings, rolls and places round in the middle of the rig, and nothing else", async () => {
    const text = `${HEAD}near: { pan: 5 deg } # é
keys:
  - at: 0 s
    axes: { swing: -10.50 deg, lift: 5, plate: +20 } # begin
    aim: { at: lid, framing: [0.4, 0.45] }
    focus: spout
  - { at: 3 s, axes: { swing: 4, lift: 7 }, aim: { at: handle, framing: [60 %, 0.5] }, focus: 2 m }
expect:
  - { of: spout.framing.across, above: 0.2, to: 1 s }
  - { of: swing.value, between: [-11 deg, 5] }
passes:
  - { name: tall, targets: { spout: { shift: [0, 1 cm, 12 mm] } } }
`;
    const after = `${HEAD}near: { pan: -5 deg } # é
keys:
  - at: 0 s
    axes: { swing: 10.50 deg, lift: 5, plate: -20 } # begin
    aim: { at: lid, framing: [0.6, 0.45] }
    focus: handle
  - { at: 3 s, axes: { swing: -4, lift: 7 }, aim: { at: spout, framing: [40 %, 0.5] }, focus: 2 m }
expect:
  - { of: handle.framing.across, below: 0.8, to: 1 s }
  - { of: swing.value, between: [-5, 11 deg] }
passes:
  - { name: tall, targets: { handle: { shift: [0, -1 cm, 12 mm] } } }
`;
    assert.equal(await mirrored(yaml(text), BASE), after);
    const crlf = (lines: string): string => lines.replaceAll("\n", "\r\n");
    assert.equal(await mirrored(yaml(crlf(text)), BASE), crlf(after));
  });

  it("works in JSON, with places of the camera and arcs", async () => {
    const text = `{ "move": 1, "rig": "telescope.rig.yaml", "camera": { "use": "a.camera.yaml", "lens": "wide" }, "set": "table.set.yaml",
  "keys": [
    { "at": "0 s", "camera": { "at": [1.5, "-20 cm", 1.2] }, "aim": "lid" },
    { "at": "4 s", "camera": { "from": "spout", "offset": [-0.5, -0.3, 0.2] }, "path": { "arc": { "via": [1.45, 0.02, 1.25] } } }
  ] }`;
    const made = await mirrored({ text: text.replace('"move": 1', '"mo|ve": 1'), file: "m.move.json", files }, BASE);
    assert.equal(
      made,
      text
        .replace('"-20 cm"', '"20 cm"')
        .replace("spout", "handle")
        .replace("-0.3, 0.2", "0.3, 0.2")
        .replace("0.02", "-0.02"),
    );
  });

  it("turns the first axis to the other side of a plane through the base and a target", async () => {
    // The base at [0, -0.8] sees the lid at [2, 0] under atan(0.8 / 2) = 21.80141 deg: a swing of a is one of 43.60282 - a.
    const text = `${HEAD}place: { at: [0, -0.8] }
keys:
  - { at: 0 s, axes: { swing: 10, lift: 5 }, aim: { at: lid, framing: [0.4, 0.5] } }
  - { at: 3 s, axes: { swing: 30, lift: 7 } }
`;
    assert.equal(
      await mirrored(yaml(text), THROUGH),
      text
        .replace("swing: 10", "swing: 33.60282")
        .replace("swing: 30", "swing: 13.60282")
        .replace("0.4, 0.5", "0.6, 0.5"),
    );
  });

  it("mirrors the base too where the plane does not go through it, or no axis turns it", async () => {
    const text = `${HEAD}place: { at: [0, -0.8], heading: 20, lean: [1, 2] }
keys:
  - { at: 0 s, axes: { swing: 0, lift: 5 }, aim: lid }
  - { at: 3 s, axes: { swing: 10, lift: 7 } }
`;
    assert.equal(
      await mirrored(yaml(text), SET),
      text
        .replace("-0.8], heading: 20, lean: [1, 2]", "0.8], heading: -20, lean: [-1, 2]")
        .replace("swing: 10", "swing: -10"),
    );
    const slider = `${headOf("slider")}place: { at: [0, -0.2] }
keys:
  - { at: 0 s, axes: { slide: 0.1 }, aim: lid }
  - { at: 3 s, axes: { slide: 0.3 } }
`;
    const { offers } = offersAt(yaml(slider));
    assert.match(offers.find(({ title }) => THROUGH.test(title))?.title ?? "", /and the base of the rig with it$/);
    // The middle plane leads past the lid.
    assert.ok(!offers.some(({ title }) => BASE.test(title)));
  });

  it("gives places of the camera where the rig is not alike on both sides, and tells what that changes", async () => {
    const rig = `rig: 1
chain:
  - { axis: slide, type: linear, along: [0.2, 1, 0], origin: { at: [0, 0, 0.9] }, range: [-1, 1] }
  - { axis: reach, type: linear, along: [1, 0, 0], range: [-1, 1] }
  - { axis: pan, type: rotary, along: [0, 0, 1], range: [-100, 100] }
  - { axis: tilt, type: rotary, along: [0, -1, 0], range: [-95, 60] }
head: { pan: pan, tilt: tilt }
`;
    const text = `${HEAD.replace("crane", "skew")}keys:
  - { at: 0 s, axes: { slide: -0.2, reach: 0 }, aim: lid }
  - { at: 3 s, axes: { slide: 0.3, reach: 0.1 } }
`;
    const made = await mirrored({ ...yaml(text), files: { ...files, "skew.rig.yaml": rig } }, BASE);
    // The slide goes along [0.2, 1] / 1.0198; the pupil is 50 mm before the head, towards the lid at [2, 0, 1.1].
    const head = [(-0.2 * 0.2) / Math.hypot(0.2, 1), -0.2 / Math.hypot(0.2, 1), 0.9];
    const way = [2 - head[0], -head[1], 1.1 - head[2]];
    const pupil = head.map((value, i) => value + (0.05 * way[i]) / Math.hypot(...way));
    const at = /at: 0 s, camera: \{ at: \[(.*)\] \}/.exec(made)?.[1].split(", ").map(Number) ?? [];
    assert.equal(at.length, 3, made);
    [pupil[0], -pupil[1], pupil[2]].forEach((value, i) => assert.ok(Math.abs(value - at[i]) < 2e-9, made));
  });

  it("says why not", () => {
    const text = (aim: string, more = ""): string =>
      `${HEAD}keys:\n  - { at: 0 s, axes: { swing: 0, lift: 5${more} }, aim: lid }\n  - { at: 3 s, axes: { swing: 10 }, aim: ${aim} }\n`;
    const reasonOf = (moved: string): string | undefined =>
      offersAt(yaml(moved)).offers.find(({ id }) => id === "mirror-base")?.disabled;
    assert.equal(
      reasonOf(text("knob")),
      "`knob` is not on the plane, and no target of the set stands for it on the other side.",
    );
    assert.match(
      reasonOf(text("lid").replace("{ swing: 10 }", "&a { swing: 10 }").concat("  - { at: 5 s, axes: *a }\n")) ?? "",
      /repeated elsewhere/,
    );
  });

  it("is the move as it was when it is done twice, whatever the keys give", async () => {
    let made = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const text = randomMoveText(seed)
        .replace(/aim: spout/g, "aim: lid")
        .replace(/spout/g, "lid");
      const once = await mirrored(yaml(text), BASE);
      const twice = await mirrored(yaml(once), BASE);
      assert.ok(apart(text, twice, "m.move.yaml") < 1e-9, text);
      made++;
    }
    assert.equal(made, 12);
  });

  it("knows rigs that are alike on both sides by the way they turn", () => {
    assert.deepEqual(jointSigns(floorRig()), [1, 1, -1, 1, 1, 1, -1, 1, -1]);
    assert.deepEqual(jointSigns(slidingArm()), [1, -1, 1, 1, -1, 1, -1]);
    // The published arm carries its elbow beside its shoulder.
    assert.equal(jointSigns(armOnTrack()), undefined);
    assert.ok(viewOf(randomMoveText(1), "m.move.yaml").solved);
  });
});
