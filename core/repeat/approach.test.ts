import assert from "node:assert/strict";
import { analyseFixture } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { approachOf } from "./approach.ts";
import { travelBack } from "./travel.ts";

// The slide goes from -0.4 to 0.4 m, rests for 1 s, and comes back to 0.1 m; the tilt is held.
function slide(more = "", end = 0.1) {
  const text = `
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: -0.4, pan: 0, tilt: 0 }, hold: 1 s }
  - { at: 5 s, axes: { slide: 0.4 }, hold: 1 s }
  - { at: 10 s, axes: { slide: ${end} } }
${more}
`;
  const { trajectory } = analyseFixture(text, KIT).get("m.move.yaml")!;
  assert.ok(trajectory);
  return trajectory;
}

describe("approachOf", () => {
  it("is the side of the last motion, also while the axis rests", () => {
    const of = approachOf(slide(), 0);
    assert.deepEqual(
      [2, 4.9, 5.5, 6.5, 10].map((t) => of(t)),
      [1, 1, 1, -1, -1],
    );
    assert.equal(approachOf(slide(), 2)(5), 0);
  });

  it("is that of the way back before the first motion", () => {
    assert.equal(approachOf(slide(), 0)(0.5), -1);
    assert.equal(approachOf(slide("return: none"), 0)(0.5), 0);
    assert.equal(approachOf(slide("return: { time: 6 s }"), 0)(0.5), -1);
    const through = "return: { time: 6 s, via: [{ at: 50 %, axes: { slide: -0.6 } }] }";
    assert.equal(approachOf(slide(through), 0)(0.5), 1);
    // It ends as it begins: no way back is needed, and the take before has ended downwards.
    assert.equal(approachOf(slide("", -0.4), 0)(0.5), -1);
  });
});

describe("travelBack", () => {
  it("is the way of the take, or through what the move's return says", () => {
    const near = (actual: number, expected: number): void =>
      assert.ok(Math.abs(actual - expected) < 1e-12, `${actual}`);
    near(travelBack(slide(), 0, 1.1), 1.1);
    near(travelBack(slide("return: none"), 0, 1.1), 0);
    near(travelBack(slide("return: { time: 6 s }"), 0, 1.1), 0.5);
    near(travelBack(slide("return: { time: 6 s, via: [{ at: 50 %, axes: { slide: -0.6 } }] }"), 0, 1.1), 0.9);
    near(travelBack(slide("", -0.4), 0, 1.6), 0);
    near(travelBack(slide("return: reversed", -0.4), 0, 1.6), 1.6);
  });
});
