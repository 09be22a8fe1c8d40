import assert from "node:assert/strict";
import { analyseFixture } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { imageLine } from "./image-line.ts";
import { keyTable } from "./key-table.ts";
import { solvedOf } from "./view.ts";

/** A 35 mm lens on 25.34 mm and 3840 px: 5303.8674 px of focal length, an angle of view of 39.8005 deg. */
const BESIDE = {
  ...KIT,
  "a.camera.yaml": `camera: 1
body: { sensor: [25.34 mm, 14.25375 mm], resolution: [3840, 2160], flange: 44 mm }
lenses:
  normal: { focal: 35 mm, pupil: 0 mm }
`,
  "ahead.set.yaml": `set: 1\ntargets:\n  ahead: { at: [3.04, 0, 1.2] }\n`,
};

function solved(keys: string) {
  const text = `#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: normal }
set: ahead.set.yaml
rate: 24
keys:
${keys}`;
  const found = solvedOf(analyseFixture(text, BESIDE).get("m.move.yaml")!);
  assert.ok(found);
  const { move, trajectory } = found;
  const lineAt = (t: number): string | undefined => {
    const instant = trajectory.createInstant();
    trajectory.at(t, instant);
    return imageLine(move, instant);
  };
  return { lineAt, table: (key: number) => keyTable(found, key) };
}

describe("the line of a key on how the picture moves", () => {
  it("tells a pan: 10 deg/s cross 39.8005 deg in 3.98 s, and smear over 1.1310 · 19.2854 px at the edges", () => {
    const { lineAt } = solved(`  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } }
  - { at: 5 s, axes: { pan: 40 }, ease: { linear: { ramp: 1 s } } }
`);
    assert.equal(
      lineAt(2.5),
      "Picture (shutter 1/48 s): the far background crosses the delivered picture in 3.98 s and smears over 21.8 px at the edges.",
    );
    assert.equal(lineAt(0), undefined);
  });

  it("tells what is focused on from a dolly, behind which the far background stands: 18.4162 px in 1/48 s", () => {
    const { lineAt } = solved(`  - { at: 0 s, axes: { slide: -0.5, pan: 0, tilt: 0 }, focus: ahead }
  - { at: 3 s, axes: { slide: 0.5 }, ease: { linear: { ramp: 1 s } } }
`);
    assert.equal(
      lineAt(1.5),
      "Picture (shutter 1/48 s): `ahead` goes 36.8 px a frame and smears over 18.4 px; the far background stands and smears over 0 px at the edges.",
    );
  });

  it("is in the table of a key that is passed, and not in that of one at rest", () => {
    const { table } = solved(`  - { at: 0 s, axes: { slide: -0.4 }, aim: ahead }
  - { at: 3 s, axes: { slide: 0 } }
  - { at: 6 s, axes: { slide: 0.4 } }
`);
    assert.match(
      table(1),
      /`ahead` goes 0 px a frame and smears over 0 px; the far background crosses the delivered picture in [\d.]+ s/,
    );
    assert.doesNotMatch(table(0), /shutter/);
  });
});
