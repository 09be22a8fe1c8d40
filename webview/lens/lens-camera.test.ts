import assert from "node:assert/strict";
import fc from "fast-check";
import { PerspectiveCamera, Vector3 } from "three";
import { project } from "../../core/lens/project.ts";
import { smallTake } from "../../test/stage/small-take.ts";
import { anyOptics, optics } from "../../test/support/lenses.ts";
import { createMoment, momentAt } from "../take/moment.ts";
import { openTake } from "../take/open-take.ts";
import { plainSlopes, reachedSlopes } from "../../core/lens/seen-slopes.ts";
import { setSlopes, standInPupil } from "./lens-camera.ts";

describe("the camera behind the lens picture", () => {
  it("pictures points of a plain lens where the lens's formula says, off centre and squeezed too", () => {
    fc.assert(
      fc.property(
        anyOptics,
        fc.double({ min: -1, max: 1, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (any, y, z) => {
          const plain = { ...any, distortion: undefined };
          const moment = createMoment(openTake(smallTake()));
          momentAt(openTake(smallTake()), 0, moment);
          const camera = new PerspectiveCamera();
          standInPupil(camera, moment);
          setSlopes(camera, plainSlopes(plain, plain.focal.low));
          const framing = [0, 0];
          project(plain, plain.focal.low, 2, y, z, framing);
          const [px, py, pz] = moment.pupil;
          const seen = new Vector3(px + 2, py + y, pz + z).project(camera);
          assert.ok(Math.abs((seen.x + 1) / 2 - framing[0]) < 1e-6, `${seen.x} ${framing}`);
          assert.ok(Math.abs((1 - seen.y) / 2 - framing[1]) < 1e-6);
        },
      ),
      { seed: 31, numRuns: 300 },
    );
  });

  it("is the camera that three makes of a focal length and a film gauge", () => {
    const camera = new PerspectiveCamera();
    setSlopes(camera, plainSlopes(optics({}), 0.035));
    const own = new PerspectiveCamera(50, 16 / 9, 0.01, 200);
    own.filmGauge = 36;
    own.setFocalLength(35);
    own.updateProjectionMatrix();
    camera.projectionMatrix.elements.forEach((part, i) =>
      assert.ok(Math.abs(part - own.projectionMatrix.elements[i]) < 1e-9),
    );
  });

  it("reaches as far as a distorted lens sees", () => {
    const barrel = optics({
      distortion: { k1: -0.12, k2: 0.02, p1: 0, p2: 0, k3: 0 },
      focal: { low: 0.018, high: 0.018 },
    });
    const slopes = reachedSlopes(barrel, 0.018);
    const plain = plainSlopes(barrel, 0.018);
    assert.ok(slopes.right > plain.right && slopes.left < plain.left);
    const framing = [0, 0];
    // What lies just beyond the reach at the corner's height lies beyond the frame.
    assert.ok(project(barrel, 0.018, 1, -slopes.right * 1.001, -slopes.bottom, framing) === false || framing[0] > 1);
  });
});
