import assert from "node:assert/strict";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { analyseFixture, checkFindings } from "../../test/fixtures/annotated.ts";
import { pupilAt } from "../lens/pupil.ts";
import { resolveOptics } from "./resolve-optics.ts";

const BODY = "camera: 1\nbody: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }\nlenses:\n";

describe("rows of a pupil", () => {
  it("are pairs, or maps with a focus, in any unit", () => {
    checkFindings(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  pairs: { focal: [24 mm, 70 mm], pupil: [[24 mm, 60 mm], [70 mm, 95 mm]] }
  prime: { focal: 85 mm, pupil: [{ focus: infinity, at: 80 mm }, { focus: 3 ft, at: 8.2 cm }, { focus: 0.5 m, at: 85 mm }] }
  zoom:
    focal: [24 mm, 70 mm]
    pupil:
      - { focal: 24 mm, focus: 2 m, at: 60 mm }
      - { focal: 24 mm, focus: 0.4 m, at: 64 mm }
      - { focal: 35 mm, at: 75 mm }
      - { focal: 70 mm, focus: infinity, at: 95 mm }
      - { focal: 70 mm, focus: 1 m, at: 99 mm }
`);
  });

  it("of a zoom need their focal length, and every row its pupil", () => {
    checkFindings(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  zoom: { focal: [24 mm, 70 mm], pupil: [{ focus: 1 m, at: 60 mm }] }
#                                        ^^^^^^^^^^^^^^^^^^^^^^^^^ error missing-field: A row of \`pupil\` of a zoom lacks \`focal\`, the focal length that it holds for.
  bare: { focal: 24 mm, pupil: [{ focus: 1 m }] }
#                                 ^^^^^ error missing-field: \`pupil[0]\` lacks \`at\`, a length (m, cm, mm, in, ft). How far the entrance pupil lies in front of the flange there.
  none: { focal: 24 mm, pupil: [] }
#                              ^^ error bad-number: \`pupil\` has no rows: give one or more, shortest focal length first.
  word: { focal: 24 mm, pupil: [{ focus: far, at: 60 mm }] }
#                                        ^^^ error wrong-type: \`focus\` cannot be \`far\`; a distance, or \`infinity\` is expected.
`);
  });

  it("are in order, each place once", () => {
    checkFindings(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  a: { focal: [24 mm, 70 mm], pupil: [[70 mm, 60 mm], [24 mm, 95 mm]] }
#                                                     ^^^^^^^^^^^^^^ error bad-number: The rows of \`pupil\` go from the shortest focal length to the longest.
  b: { focal: [24 mm, 70 mm], pupil: [[24 mm, 60 mm], [24 mm, 95 mm]] }
#                                                     ^^^^^^^^^^^^^^ error bad-number: \`pupil\` has two rows for this focal length: give each its \`focus\`, or one row only.
  c: { focal: 24 mm, pupil: [{ focus: 1 m, at: 60 mm }, { focus: 100 cm, at: 62 mm }] }
#                                                       ^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error bad-number: \`pupil\` has two rows for this focal length and focus: give one.
  d: { focal: 24 mm, pupil: [{ focus: 1 m, at: 60 mm }, { at: 62 mm }] }
#                                                       ^^^^^^^^^^^^^ error bad-number: Of the rows of \`pupil\` for one focal length either each has a \`focus\`, or there is one row only.
  e: { focal: 24 mm, pupil: [{ focus: 1 m, at: 60 mm }, { focus: 2 m, at: 62 mm }, { focus: 1.5 m, at: 62 mm }] }
#                                                                                  ^^^^^^^^^^^^^^^^^^^^^^^^^^^ error bad-number: The rows of \`pupil\` for one focal length go on from near to far, or from far to near.
`);
  });

  it("past what a lens is measured at are not read", () => {
    const rows = Array.from({ length: 201 }, (_, i) => `{ focus: ${300 - i} mm, at: 60 mm }`).join(", ");
    const { textFindings } = analyseFixture(`#- c.camera.yaml\n${BODY}  a: { focal: 24 mm, pupil: [${rows}] }\n`).get(
      "c.camera.yaml",
    )!;
    assert.deepEqual(
      textFindings.map(({ code, message }) => [code, message]),
      [["too-large", "`pupil` has 201 rows; at most 200 are read."]],
    );
  });

  it("go by focus in either order and make the lens's table", () => {
    const lines = ["{ focus: infinity, at: 80 mm }", "{ focus: 1 m, at: 83 mm }", "{ focus: 0.5 m, at: 85 mm }"];
    for (const rows of [lines, [...lines].reverse()]) {
      const text = `${BODY}  prime: { focal: 85 mm, pupil: [${rows.join(", ")}] }`;
      const lens = resolveOptics("c.camera.yaml", memorySources(new Map([["c.camera.yaml", text]]))).optics.get(
        "prime",
      );
      assert.deepEqual(
        [NaN, 1, 0.5].map((focus) => pupilAt(lens!, 0.085, focus)),
        [0.08, 0.083, 0.085],
      );
    }
  });
});
