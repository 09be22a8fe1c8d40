import assert from "node:assert/strict";
import { memorySources } from "../../test/fixtures/memory-sources.ts";
import { analyseFixture, checkFindings } from "../../test/fixtures/annotated.ts";
import type { LensMotor } from "../lens/lens-motor.ts";
import { resolveOptics } from "./resolve-optics.ts";

const BODY = "camera: 1\nbody: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }\nlenses:\n";

function motorsOf(motors: string): readonly LensMotor[] {
  const text = `${BODY}  zoom: { focal: [24 mm, 70 mm], pupil: 60 mm, motors: ${motors} }\n`;
  const { optics, problems } = resolveOptics("c.camera.yaml", memorySources(new Map([["c.camera.yaml", text]])));
  assert.deepEqual(problems, []);
  return optics.get("zoom")?.motors ?? [];
}

describe("motors of a lens", () => {
  it("have a scale in either order, in any unit, and limits of their own", () => {
    const near = motorsOf("{ focus: { scale: [[0.5 m, 90 deg], [1 m, 30 deg], [infinity, 0]], limits: { speed: 180, jerk: 900 } } }"); // prettier-ignore
    const far = motorsOf("{ focus: { scale: [[infinity, 0], [1000 mm, 30], [50 cm, 90]], limits: { speed: 180 deg/s, jerk: 900 } } }"); // prettier-ignore
    for (const [motor] of [near, far]) {
      assert.deepEqual(motor.scale.places, [0, 1, 2]);
      motor.scale.angles.forEach((angle, i) => assert.ok(Math.abs(angle - ([0, 30, 90][i] * Math.PI) / 180) < 1e-12));
      assert.deepEqual(motor.limits, { speed: Math.PI, jerk: (900 * Math.PI) / 180 });
    }
    const [iris, zoom] = motorsOf("{ zoom: { scale: [[24 mm, 0], [70 mm, 90]] }, iris: { scale: [[2.8, 60], [22, 0]] } }"); // prettier-ignore
    assert.deepEqual([iris.name, zoom.name], ["iris", "zoom"]);
    assert.deepEqual(zoom.scale.places, [0.024, 0.07]);
    assert.deepEqual(iris.scale.places, [Math.log(2.8), Math.log(22)]);
    assert.deepEqual(motorsOf("{ focus: { limits: {} } }"), []);
  });

  it("need a scale for their limits, two rows or more, in order, whose angles only rise or only fall", () => {
    checkFindings(`
#- c.camera.yaml
camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  a: { focal: 35 mm, pupil: 60 mm, motors: { focus: { limits: { speed: 90 } } } }
#                                                             ^^^^^^^^^^^^^ error missing-field: \`limits\` of the focus motor are of angles that the motor turns, but how it stands at which of its distances is not said: add \`scale\` with two pairs or more.
  b: { focal: 35 mm, pupil: 60 mm, motors: { iris: { scale: [[2.8, 0]] } } }
#                                                           ^^^^^^^^^^ error bad-number: \`scale\` of the iris motor has one row: two or more are needed to tell how it turns.
  c: { focal: 35 mm, pupil: 60 mm, motors: { iris: { scale: [] } } }
#                                                           ^^ error bad-number: \`scale\` of the iris motor has no rows: two or more are needed to tell how it turns.
  d: { focal: 35 mm, pupil: 60 mm, motors: { focus: { scale: [[1 m, 0], [2 m, 20], [1.5 m, 40]] } } }
#                                                                                  ^^^^^^^^^^^ error bad-number: The rows of \`scale\` of the focus motor go on from one end to the other, each of its distances once.
  e: { focal: 35 mm, pupil: 60 mm, motors: { focus: { scale: [[1 m, 0], [100 cm, 20]] } } }
#                                                                       ^^^^^^^^^^^^ error bad-number: The rows of \`scale\` of the focus motor go on from one end to the other, each of its distances once.
  f: { focal: 35 mm, pupil: 60 mm, motors: { focus: { scale: [[1 m, 0], [2 m, 20], [3 m, 10]] } } }
#                                                                                  ^^^^^^^^^ error bad-number: The angles of \`scale\` of the focus motor only rise or only fall: at one angle the lens can stand at one mark alone.
  g: { focal: 35 mm, pupil: 60 mm, motors: { zoom: { scale: [[24 mm, 10], [70 mm, 10]] } } }
#                                                                         ^^^^^^^^^^^ error bad-number: The angles of \`scale\` of the zoom motor only rise or only fall: at one angle the lens can stand at one mark alone.
  h: { focal: 35 mm, pupil: 60 mm, motors: { zoom: { scale: [[infinity, 10], [70 mm, 20]] } } }
#                                                             ^^^^^^^^ error wrong-type: \`scale[0]\`: \`infinity\` is not a number; a length (m, cm, mm, in or ft) is expected.
`);
  });

  it("past what a scale has marks are not read", () => {
    const rows = Array.from({ length: 201 }, (_, i) => `[${i + 1} m, ${i}]`).join(", ");
    const text = `#- c.camera.yaml\n${BODY}  a: { focal: 24 mm, pupil: 60 mm, motors: { focus: { scale: [${rows}] } } }\n`;
    const { textFindings } = analyseFixture(text).get("c.camera.yaml")!;
    assert.deepEqual(
      textFindings.map(({ code, message }) => [code, message]),
      [["too-large", "`scale` has 201 rows; at most 200 are read."]],
    );
  });
});
