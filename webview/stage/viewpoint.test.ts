import assert from "node:assert/strict";
import fc from "fast-check";
import { PerspectiveCamera, Vector3 } from "three";
import type { Vec3 } from "../../core/base/vec3.ts";
import { SIDES, type Viewpoint } from "../panes/pane-kind.ts";
import { createEye } from "./eye.ts";
import { ticksAlong } from "./rulers.ts";
import { basisOf, distanceOf, fitted, OPENING, orbited, panned, zoomed, type Bounds } from "./viewpoint.ts";

const near = (a: Vec3, b: Vec3): void => a.forEach((part, k) => assert.ok(Math.abs(part - b[k]) < 1e-12, `${a} ${b}`));
const bounds: Bounds = { low: [-1, -2, 0], high: [3, 1, 2] };

describe("viewpoints of the stage", () => {
  it("look at the sides as a plan and elevations do", () => {
    const top = basisOf(fitted("top", bounds, 1.5));
    near(top.right, [1, 0, 0]);
    near(top.up, [0, 1, 0]);
    const side = basisOf(fitted("side", bounds, 1.5));
    near(side.right, [1, 0, 0]);
    near(side.up, [0, 0, 1]);
    const front = basisOf(fitted("front", bounds, 1.5));
    near(front.right, [0, -1, 0]);
    near(front.up, [0, 0, 1]);
  });

  it("see all that they are fitted to, from every side and in every shape of picture", () => {
    const eye = createEye();
    for (const side of SIDES) {
      for (const aspect of [0.4, 1, 2.5]) {
        eye.set(side, fitted(side, bounds, aspect), aspect);
        for (let corner = 0; corner < 8; corner++) {
          const at = [0, 1, 2].map((k) => ((corner >> k) & 1 ? bounds.high[k] : bounds.low[k]));
          const seen = new Vector3(...at).project(eye.current());
          assert.ok(Math.abs(seen.x) <= 1 && Math.abs(seen.y) <= 1 && Math.abs(seen.z) <= 1, `${side} ${aspect} ${at}`);
        }
      }
    }
  });

  it("are the same as three's own camera that stands there and looks there", () => {
    const view: Viewpoint = { centre: [1, 2, 0.5], azimuth: -2, elevation: 0.4, span: 3 };
    const eye = createEye();
    eye.set("free", view, 1.6);
    const own = new PerspectiveCamera((OPENING * 180) / Math.PI, 1.6, 0.1, 100);
    own.up.set(0, 0, 1);
    const back = basisOf(view).back;
    own.position.set(...(view.centre.map((part, k) => part + distanceOf(view) * back[k]) as [number, number, number]));
    own.lookAt(...view.centre);
    own.updateMatrixWorld();
    for (const at of [
      [0, 0, 0],
      [2, 1, 1],
      [1, 3, -1],
    ] as const) {
      // prettier-ignore
      const a = new Vector3(...at).project(eye.current());
      const b = new Vector3(...at).project(own);
      assert.ok(Math.hypot(a.x - b.x, a.y - b.y) < 1e-6);
    }
  });

  it("keep what is under the pointer while zooming", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 2, noNaN: true }),
        fc.double({ min: -0.5, max: 0.5, noNaN: true }),
        fc.double({ min: -0.5, max: 0.5, noNaN: true }),
        (factor, right, up) => {
          const view = fitted("side", bounds, 1.5);
          const after = zoomed(view, factor, right, up);
          const at = (v: Viewpoint): Vec3 =>
            [0, 1, 2].map(
              (k) => v.centre[k] + v.span * (right * basisOf(v).right[k] + up * basisOf(v).up[k]),
            ) as unknown as Vec3;
          at(view).forEach((part, k) => assert.ok(Math.abs(part - at(after)[k]) < 1e-9));
        },
      ),
      { seed: 21, numRuns: 200 },
    );
  });

  it("turn only in the free view, and never over the top", () => {
    const top = fitted("top", bounds, 1);
    assert.equal(orbited("top", top, 1, 1), top);
    const free = fitted("free", bounds, 1);
    assert.equal(orbited("free", free, 0, 9).elevation, Math.PI / 2);
    const moved = panned(free, 0.5, 0);
    assert.ok(Math.hypot(...moved.centre.map((part, k) => part - free.centre[k])) > 0);
  });

  it("are measured by rulers in metres", () => {
    // 400 px at 100 px per metre around x = 1: from -1 to 3; steps of a metre would fit, half metres have 50 px, too little.
    const ticks = ticksAlong([1, 0, 0], [1, 0, 0], 400, 100);
    assert.deepEqual(
      ticks.map(({ at, text }) => [Math.round(at), text]),
      [
        [0, "-1 m"],
        [100, "0 m"],
        [200, "1 m"],
        [300, "2 m"],
        [400, "3 m"],
      ],
    );
    const turned = ticksAlong([0, -1, 0], [0, 1, 0], 200, 100);
    assert.deepEqual(
      turned.map(({ at, text }) => [Math.round(at), text]),
      [
        [200, "0 m"],
        [100, "1 m"],
        [0, "2 m"],
      ],
    );
  });
});
