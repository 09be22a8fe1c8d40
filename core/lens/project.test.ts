import assert from "node:assert/strict";
import fc from "fast-check";
import { anyOptics, optics, part } from "../../test/support/lenses.ts";
import { fieldOfView } from "./field-of-view.ts";
import { capturedFraming, deliveredFraming, project, unproject } from "./project.ts";

const DEG = Math.PI / 180;

describe("project", () => {
  it("puts a point on the view in the middle, and left and up where they are seen", () => {
    const lens = optics({ sensor: [0.036, 0.02025] });
    const out = [0, 0];
    assert.ok(project(lens, 0.035, 2, 0, 0, out));
    assert.deepEqual(out, [0.5, 0.5]);
    // A point 1 m to the left and 0.5 m up at 7 m: 5 mm and 2.5 mm on the sensor by similar triangles.
    assert.ok(project(lens, 0.035, 7, 1, 0.5, out));
    assert.ok(Math.abs(out[0] - (0.5 - 5 / 36)) < 1e-15 && Math.abs(out[1] - (0.5 - 2.5 / 20.25)) < 1e-15);
  });

  it("squeezes across only and shifts by the centre", () => {
    const out = [0, 0];
    project(optics({ squeeze: 2, centre: [0.01, -0.02] }), 0.05, 5, -1, 1, out);
    assert.ok(Math.abs(out[0] - (0.51 + (0.05 * 0.2) / (2 * 0.036))) < 1e-15);
    assert.ok(Math.abs(out[1] - (0.48 - (0.05 * 0.2) / 0.02025)) < 1e-15);
  });

  it("says so and gives NaN behind the camera and beyond a fold of the distortion", () => {
    const out = [0, 0];
    for (const [x, y, z] of [
      [-1, 0, 0],
      [0, 1, 0],
      [NaN, 0, 0],
      [0, 0, 0],
    ]) {
      assert.equal(project(optics({}), 0.035, x, y, z, out), false);
      assert.ok(Number.isNaN(out[0]) && Number.isNaN(out[1]));
    }
    // r (1 - 0.2 r²) turns at r = 1.29 and would bring a point 66 degrees off the view back to the middle.
    const barrel = optics({ distortion: { k1: -0.2, k2: 0, p1: 0, p2: 0, k3: 0 } });
    assert.equal(project(barrel, 0.035, 1, Math.sqrt(5), 0, out), false);
    assert.equal(project(barrel, 0.035, 1, 1.25, 0, out), true);
  });

  it("is undone by unproject on 2,000 lenses and framings", () => {
    fc.assert(
      fc.property(anyOptics, part(0.7), part(0.7), (lens, across, down) => {
        const focal = lens.focal.low;
        const direction = [0, 0, 0];
        const out = [0, 0];
        if (!unproject(lens, focal, 0.5 + across, 0.5 + down, direction)) return;
        assert.ok(project(lens, focal, direction[0] * 3, direction[1] * 3, direction[2] * 3, out));
        assert.ok(Math.hypot(out[0] - 0.5 - across, out[1] - 0.5 - down) < 1e-11, `${out.join()} ${across} ${down}`);
      }),
      { numRuns: 2000, seed: 5 },
    );
  });

  it("finds the direction of every framing that a point projects to", () => {
    fc.assert(
      fc.property(anyOptics, part(0.5), part(0.4), (lens, y, z) => {
        const out = [0, 0];
        const direction = [0, 0, 0];
        if (!project(lens, lens.focal.low, 1, y, z, out)) return;
        assert.ok(unproject(lens, lens.focal.low, out[0], out[1], direction), `no direction for ${out.join()}`);
        assert.ok(Math.hypot(direction[1] - y, direction[2] - z) < 1e-9, `${direction.join()} for ${y}, ${z}`);
      }),
      { numRuns: 2000, seed: 6 },
    );
  });

  it("refuses a framing that the lens forms no picture of", () => {
    const lens = optics({ distortion: { k1: -0.2, k2: 0, p1: 0, p2: 0, k3: 0 } });
    const direction = [0, 0, 0];
    // The largest radius that 1 - 0.2 r² reaches is 0.861: beyond 18 mm · 0.861 / 35 mm of the axis there is nothing.
    assert.equal(unproject(lens, 0.01, 1, 0.5, direction), false);
    assert.ok(direction.every(Number.isNaN));
    assert.equal(unproject(lens, 0.035, 1, 0.5, direction), true);
  });
});

describe("fieldOfView", () => {
  it("agrees with 2 atan(w / 2f)", () => {
    // 24.89 x 18.66 mm is the published size of a Super 35 gate; the angles follow from the formula.
    const rows: [number, number, number, number, number][] = [
      [36, 24, 18, 90, 67.3801],
      [36, 24, 50, 39.5978, 26.9915],
      [24.89, 18.66, 25, 52.9282, 40.9311],
      [17.3, 13, 85, 11.6214, 8.7459],
    ];
    for (const [w, h, f, across, down] of rows) {
      const view = fieldOfView(optics({ sensor: [w / 1000, h / 1000] }), f / 1000);
      assert.ok(Math.abs(view.across / DEG - across) < 1e-4 && Math.abs(view.down / DEG - down) < 1e-4);
    }
  });
});

describe("delivered crop", () => {
  it("is centred, and both ways are inverse", () => {
    const lens = optics({});
    assert.deepEqual(capturedFraming(lens, [3072, 1728], [0, 1]), [0.25, 0.75]);
    assert.deepEqual(deliveredFraming(lens, [3072, 1728], [0.25, 0.75]), [0, 1]);
    assert.deepEqual(deliveredFraming(lens, [3072, 1728], [0, 0.5]), [-0.5, 0.5]);
  });
});
