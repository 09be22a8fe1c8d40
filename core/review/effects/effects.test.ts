import assert from "node:assert/strict";
import { demoFiles, replaced, reviewOfMove, sideOfFiles, type Files } from "../../../test/support/change.ts";
import { runToEnd } from "../../base/task.ts";
import { KIT } from "../../../test/fixtures/kit.ts";
import { reviewMove } from "../review-move.ts";
import { reviewSide } from "../review-side.ts";
import type { Effects, MoveReview } from "../review.ts";

const FILE = "m.move.yaml";

/** A slider that looks along x, level with the lid and square to it: the lid is 2 m - 0.14 m from the pupil. */
const text = `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
rate: 25
deliver: [3072, 1728]
keys:
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 }, focus: lid }
  - { at: 4 s, axes: { slide: 0.1, pan: 0 } }
  - { at: 8 s, axes: { slide: 0, pan: 0 } }
`;

const filesOf = (move: string, more: Readonly<Record<string, string>> = {}): Files =>
  new Map(Object.entries({ ...KIT, ...more, [FILE]: move }));

function review(before: Files, after: Files): MoveReview {
  return reviewOfMove(FILE, sideOfFiles(before), sideOfFiles(after));
}

function effectsOf(before: Files, after: Files): Effects {
  const { effects } = review(before, after);
  assert.ok(effects);
  return effects;
}

const near = (actual: number | undefined, expected: number, tolerance: number): void =>
  assert.ok(actual !== undefined && Math.abs(actual - expected) <= tolerance, `${actual}, ${expected} expected`);

describe("effects of a change", () => {
  it("on the camera's path are those of a shift that is known", () => {
    const { path } = effectsOf(filesOf(text), filesOf(text.replace("slide: 0.1", "slide: 0.13")));
    near(path?.byTime.value, 0.03, 1e-9);
    near(path?.byTime.at, 4, 1e-3);
    assert.equal(path?.byTime.dimension, "length");
    // A place that is another by (3, 4) cm moves every point of the path by 5 cm.
    const moved = effectsOf(filesOf(text), filesOf(text.replace("keys:", "place: { at: [0.03, 0.04] }\nkeys:")));
    near(moved.path?.byTime.value, 0.05, 1e-9);
    near(moved.path?.byShare.value, 0.05, 1e-9);
  });

  it("on framing are those of a pinhole camera", () => {
    // Focal length 24 mm, 6144 px on 36 mm: a point d to the side at a depth of z is f d / z to the side in the picture.
    // The flange is 0.04 m in front of the tilt axis, the pupil 0.05 m in front of that; the lid stands at x = 2 m.
    const depth = 2 - 0.04 - 0.05;
    const px = ((0.024 * 0.02) / depth) * (6144 / 0.036);
    const { framing } = effectsOf(filesOf(text), filesOf(text.replaceAll("slide: 0,", "slide: 0.02,")));
    const lid = framing.find(({ target }) => target === "lid");
    near(lid?.largest.value, px, px * 1e-6);
    assert.equal(lid?.largest.dimension, "pixels");
    // What neither of the two shows in the delivered picture is not told.
    assert.ok(framing.every(({ target }) => target !== "floor-spot"));
  });

  it("on focus are those of the distance to what is focused on, from the sensor plane", () => {
    const far = { "table.set.yaml": KIT["table.set.yaml"].replace("lid: { at: [2,", "lid: { at: [2.25,") };
    const { focus } = effectsOf(filesOf(text), filesOf(text, far));
    // Square to the view at the first and the last key: 0.25 m farther, at the key between a little less.
    near(focus?.value, 0.25, 1e-9);
    const none = text.replace(", focus: lid", "");
    assert.equal(effectsOf(filesOf(none), filesOf(none.replace("0.1", "0.2"))).focus, undefined);
  });

  it("on an axis are its highest shares of any limit, of which and when, and its largest difference", () => {
    const { axes, duration } = effectsOf(filesOf(text), filesOf(text.replace("slide: 0.1", "slide: 0.2")));
    assert.deepEqual(duration, { before: 8, after: 8, dimension: "time" });
    const slide = axes.find(({ axis }) => axis === "slide");
    assert.ok(slide);
    near(slide.largest?.value, 0.1, 1e-9);
    near(slide.largest?.at, 4, 1e-2);
    // Twice the way in the same time is twice the share.
    assert.deepEqual(slide.of, { before: slide.of.after, after: slide.of.after });
    near(slide.share.after, 2 * (slide.share.before ?? 0), 1e-9);
    const pan = axes.find(({ axis }) => axis === "pan");
    assert.equal(pan?.largest?.value, 0);
    assert.equal(pan?.type, "rotary");
  });

  it("on an axis are told where only its limit is another", () => {
    const slower = {
      "slider.rig.yaml": KIT["slider.rig.yaml"].replace(
        "speed: 0.5, accel: 1, jerk: 8",
        "speed: 0.02, accel: 1, jerk: 8",
      ),
    };
    const { motion, effects, findings } = review(filesOf(text), filesOf(text, slower));
    assert.equal(motion, "same");
    const slide = effects?.axes.find(({ axis }) => axis === "slide");
    assert.equal(slide?.of.after, "speed");
    assert.ok((slide?.share.after ?? 0) > 1);
    assert.deepEqual([...new Set(findings.map(({ state, code }) => `${state} ${code}`))], ["new axis-speed"]);
  });

  it("compare a move that lasts longer at equal shares too", () => {
    const longer = text.replace("at: 4 s", "at: 5 s").replace("at: 8 s", "at: 10 s");
    const { path, duration } = effectsOf(filesOf(text), filesOf(longer));
    assert.deepEqual(duration, { before: 8, after: 10, dimension: "time" });
    assert.ok(path && path.byTime.value > 1e-3);
    near(path.byShare.value, 0, 1e-9);
  });

  it("are told of the least clearance and of errors between passes", () => {
    const files = demoFiles();
    const lid = "moves/over-the-lid.move.yaml";
    const [before, nearer] = [
      files,
      replaced(files, "teapots.set.yaml", "knob: { sphere: { radius: 0.015 }", "knob: { sphere: { radius: 0.025 }"),
    ].map((one) => sideOfFiles(one));
    const { motion, effects } = reviewOfMove(lid, before, nearer);
    assert.equal(motion, "same");
    const { clearance } = effects ?? {};
    assert.ok(clearance?.before !== undefined && clearance.after !== undefined);
    // A sphere that is 10 mm larger is at most 10 mm nearer, and no farther.
    const by = clearance.before - clearance.after;
    assert.ok(0 <= by && by <= 0.01 + 1e-9, `${by}`);
    const shakier = sideOfFiles(replaced(files, "kit/floor.rig.yaml", "slip: 0.04 mm/m", "slip: 1 mm/m"));
    const { passError } = reviewOfMove(lid, before, shakier).effects ?? {};
    assert.ok(passError?.before !== undefined && passError.after !== undefined && passError.after > passError.before);
  });

  it("of a move that only one side has are its own figures", () => {
    const { sources, memo } = sideOfFiles(filesOf(text));
    const side = runToEnd(reviewSide(FILE, sources, memo));
    for (const which of ["before", "after"] as const) {
      const [before, after] = which === "before" ? [side, undefined] : [undefined, side];
      const { state, motion, effects, keys, fields } = runToEnd(reviewMove(before, after));
      assert.deepEqual([state, motion, keys, fields], [which === "before" ? "removed" : "added", "changed", [], []]);
      assert.deepEqual(effects?.duration, { [which]: 8, dimension: "time" });
      assert.equal(effects?.path, undefined);
      const slide = effects?.axes.find(({ axis }) => axis === "slide");
      assert.ok(slide?.share[which] !== undefined && slide.largest === undefined);
    }
  });
});
