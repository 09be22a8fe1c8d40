import assert from "node:assert/strict";
import { runToEnd } from "../../../core/base/task.ts";
import { assertClears, errors, offers, viewOf } from "../../../test/fixtures/clearings.ts";
import { findingsIn, type Documents } from "../../../test/fixtures/cured.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import {
  ball,
  CALM,
  FILE,
  FOLDED,
  folding,
  HUNG,
  hung,
  move,
  near,
  RIGS,
  standing,
} from "../../../test/fixtures/near-moves.ts";
import { findClearings } from "./clear-search.ts";

describe("what is offered for a finding of space", () => {
  it("changes a value by what is needed and no more: a sphere beside a slide, by Pythagoras", () => {
    const documents = near("slider");
    const [{ title, after }] = assertClears(documents, "clearance");
    const slide = Number(/slide: ([\d.]+) } }\n$/.exec(after[FILE])?.[1]);
    assert.match(title, new RegExp(`from 0.25 to ${slide} m`));
    // The pupil is 0.16 m before and 0.05 m below the middle of the ball: 0.3 m from there it is this far along the slide.
    const needed = 0.3 - Math.sqrt(0.3 ** 2 - 0.16 ** 2 - 0.05 ** 2);
    assert.ok(needed - 0.003 <= slide && slide <= needed, `${slide} m for ${needed} m`);
    const less = { ...documents, [FILE]: documents[FILE].replace("slide: 0.25", `slide: ${needed + 0.001}`) };
    assert.equal(
      errors(less, FILE).filter(({ code }) => code === "clearance").length,
      1,
      "1 mm farther it is too near",
    );
  });

  it("keeps the notation of each value, and every other byte", () => {
    const documents = near("telescope");
    const text = documents[FILE].replace("tube: 0.3, swing: 8", 'tube: 300 mm, swing: "8 deg" # past the ball\n   ');
    const made = assertClears({ ...documents, [FILE]: text }, "clearance");
    const texts = made.map(({ after }) => after[FILE]);
    const same = (one: string) => one.replace(/tube: \d+ mm|swing: "[\d.]+ deg"|lift: [\d.]+/g, "");
    assert.ok(texts.some((one) => /tube: 2\d\d mm/.test(one)));
    assert.ok(texts.some((one) => /swing: "[\d.]+ deg"/.test(one) && !one.includes('"8 deg"')));
    for (const one of texts) assert.equal(same(one), same(text));
  });

  it("writes JSON", () => {
    const file = "m.move.json";
    const keys = [
      { at: "0 s", axes: { swing: 0, lift: 0, pan: 0, tilt: 0 } },
      { at: "12 s", axes: { swing: "22 deg", lift: 4 } },
    ];
    const tolerance = { crossing: "1 ms", clearance: 0.2, "self-clearance": 0 };
    const camera = { use: "a.camera.yaml", lens: "wide" };
    const json = { move: 1, rig: "crane.rig.yaml", camera, set: "ball.set.yaml", tolerance, keys };
    const made = assertClears({ ...near("crane"), [file]: JSON.stringify(json, null, 2) }, "clearance", file);
    const written = made.map(({ after }) => (JSON.parse(after[file]) as typeof json).keys[1].axes);
    assert.ok(written.some(({ swing }) => /^1\d(\.\d)? deg$/.test(String(swing))));
  });

  it("moves the point of a camera key", () => {
    const keys = `  - { at: 0 s, camera: { at: [1.6, 0, 1.1] }, aim: lid }
  - { at: 12 s, camera: { from: lid, offset: [-2.1, 200 mm, 0] } }
`;
    const documents = { ...near("telescope"), [FILE]: move("telescope", `${CALM}\nkeys:\n${keys}`) };
    const made = assertClears(documents, "clearance");
    assert.ok(
      made.some(({ title }) => /of the camera's offset at key 2/.test(title)),
      made.map(({ title }) => title).join(),
    );
    assert.ok(made.some(({ after }) => /offset: \[-2\.1, -?\d+ mm, 0\]/.test(after[FILE])));
  });

  it("shifts the framing until the stand is out of the picture", () => {
    const seen = standing("slider", "");
    const keys = `  - { at: 0 s, axes: { slide: 0 }, aim: { at: lid, framing: [0.5, 0.5] } }
  - { at: 12 s, aim: { framing: [90 %, 0.5] } }
`;
    const text = `set: ball.set.yaml\nkeys:\n${keys}`;
    const documents = {
      ...seen,
      "ball.set.yaml": ball("[9, 0, 0]"),
      "own.rig.yaml": seen["own.rig.yaml"].replace("[0, 1.5, 1.5]", "[1.5, 1.5, 1.5]"),
      [FILE]: seen[FILE].replace(/keys:[^]*$/, text),
    };
    const titles = assertClears(documents, "in-view").map(({ title }) => title);
    const framing = titles.find((title) => title.startsWith("Set framing across at key 2 from 90 to "));
    assert.match(framing ?? titles.join(), /to [\d.]+ %: stand is then out of the picture$/);
  });

  it("turns to where the rig stands and its set-up only where the keys have too little to offer", () => {
    const rig = `rig: 1
chain:
  - { axis: column, type: linear, origin: { at: [0, 0, 0.5] }, range: [0, 1], drive: setup }
  - { axis: pan, type: rotary, range: [-100, 100], limits: { speed: 30, accel: 60, jerk: 400 } }
`;
    const keys = "keys:\n  - { at: 0 s, axes: { pan: 0 } }\n  - { at: 9 s, axes: { pan: 1 } }\n";
    const text = move("post", `place: { at: [0 mm, 0.1] }\nsetup: { column: 0.4 }\n${CALM}\n${keys}`);
    const documents = { ...KIT, "post.rig.yaml": rig, "ball.set.yaml": ball("[0.05, 0.2, 0.75]"), [FILE]: text };
    const titles = assertClears(documents, "clearance").map(({ title }) => title);
    assert.ok(
      titles.some((title) => /^Set column of the set-up from 0\.4 to /.test(title)),
      titles.join(),
    );
    assert.ok(
      titles.some((title) => /^Set [xy] of the place from /.test(title)),
      titles.join(),
    );
  });

  it("clears a pass whose target stands elsewhere", () => {
    const keys = `  - { at: 0 s, camera: { from: lid, offset: [-2, -0.3, 0] }, aim: lid }
  - { at: 12 s, camera: { from: lid, offset: [-2, 0, 0] } }
`;
    const passes = "passes: [{ name: aside, targets: { lid: { shift: [0, 0.15, 0] } } }]";
    const documents = { ...near("telescope"), [FILE]: move("telescope", `${CALM}\n${passes}\nkeys:\n${keys}`) };
    const [finding] = findingsIn(documents, FILE).filter(({ code }) => code === "clearance");
    assert.equal(finding.pass, "aside");
    assertClears(documents, "clearance");
  });

  it("is nothing where no single value does it", () => {
    const cage = `set: 1
obstacles:
  left: { box: [3, 0.02, 3], at: [0, 0.25, 1] }
  right: { box: [3, 0.02, 3], at: [0, -0.25, 1] }
`;
    const keys = "keys:\n  - { at: 0 s, axes: { slide: 0.15, pan: 0, tilt: 0 } }\n";
    const shut = { ...near("slider"), "ball.set.yaml": cage, [FILE]: move("slider", `${CALM}\n${keys}`) };
    const wide = { ...shut, [FILE]: shut[FILE].replace("200 mm", "300 mm") };
    assert.deepEqual(offers(wide, "clearance"), []);
    const between = { ...wide, "ball.set.yaml": cage.replace("obstacles", "people") };
    assert.deepEqual(offers(between, "people"), []);
    // The tilt alone would do, beyond its range.
    const low = hung(...HUNG.slider, "slider");
    const tight: Documents = {
      ...low,
      "hung.rig.yaml": low["hung.rig.yaml"].replace("range: [-95, 60]", "range: [-95, -66]"),
    };
    assert.deepEqual(offers({ ...tight, [FILE]: tight[FILE].replace("tilt: 0", "tilt: -70") }, "floor"), []);
  });

  it("is nothing for a rig that is in its own picture wherever it looks, or whose value stands for more than one key", () => {
    for (const rig of RIGS) {
      const seen = standing(rig, "pan: 0.5");
      const fixed = seen["own.rig.yaml"]
        .replace("on: base", "on: tilt")
        .replace(/at: \[[^\]]+\] }]/, "at: [0.5, 0, 0.05] }]");
      assert.deepEqual(offers({ ...seen, "own.rig.yaml": fixed }, "in-view"), [], rig);
      // Both keys say the same number, which stands for both: another value would change both.
      const folded = folding(rig);
      const [first, second] = [`tilt: &down ${FOLDED[rig]} }`, "tilt: *down }"];
      const text = folded[FILE].replace("tilt: 0 }", first).replace(`tilt: ${FOLDED[rig]} } }\n`, `${second} }\n`);
      const kept = { ...folded, [FILE]: text };
      assert.deepEqual(offers(kept, "self-clearance"), [], rig);
    }
  });

  it("is nothing for people who are far enough but beside something fast: time helps there", () => {
    const documents = near("crane", "people");
    const fast = documents[FILE].replace("clearance: 200 mm", "clearance: 10 mm").replace("12 s", "3 s");
    const view = viewOf({ ...documents, [FILE]: fast });
    const finding = view.analysis.motionFindings.find(({ code }) => code === "people");
    assert.equal(finding?.unit, "m/s");
    assert.deepEqual(runToEnd(findClearings(view, finding)), []);
  });
});
