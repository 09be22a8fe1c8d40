import assert from "node:assert/strict";
import fc from "fast-check";
import { centroid, convexHull } from "./polygon.ts";
import type { Vec2 } from "./vec3.ts";

const near = (found: Vec2, wanted: Vec2): void =>
  found.forEach((part, k) => assert.ok(Math.abs(part - wanted[k]) < 1e-12, `${found.join()} is not ${wanted.join()}`));

describe("polygons", () => {
  it("have a hull whatever the order of their corners, inner and doubled ones left out", () => {
    const crossed: Vec2[] = [[0, 0], [2, 1], [2, 0], [0, 1], [1, 0.5], [1, 0], [2, 1]]; // prettier-ignore
    assert.deepEqual(convexHull(crossed), [[0, 0], [2, 0], [2, 1], [0, 1]]); // prettier-ignore
  });

  it("have no hull of three corners on one line or in one point", () => {
    assert.ok(convexHull([[0.1, 0.1], [0.2, 0.2], [0.3, 0.3]]).length < 3); // prettier-ignore
    assert.ok(convexHull([[1, 1], [1, 1], [1, 1]]).length < 3); // prettier-ignore
  });

  it("keep the tip of an edge whose points lie over each other but for rounding", () => {
    const upright: Vec2[] = [[1, 0], [1 - 1e-14, 1], [1 - 2e-14, 0.5], [0, 0.2]]; // prettier-ignore
    assert.ok(convexHull(upright).some(([, y]) => y === 1));
  });

  it("have all their points inside the hull", () => {
    const point = fc.tuple(fc.integer({ min: -9, max: 9 }), fc.integer({ min: -9, max: 9 }));
    fc.assert(
      fc.property(fc.array(point, { minLength: 3, maxLength: 12 }), (points) => {
        const hull = convexHull(points);
        if (hull.length < 3) return;
        hull.forEach(([ax, ay], i) => {
          const [bx, by] = hull[(i + 1) % hull.length];
          for (const [x, y] of points) assert.ok((bx - ax) * (y - ay) - (by - ay) * (x - ax) >= 0);
        });
      }),
      { numRuns: 300, seed: 404 },
    );
  });

  it("have the centroid of a rectangle in its middle and of a triangle at the mean of its corners", () => {
    near(centroid([[1, 2], [3, 2], [3, 6], [1, 6]]), [2, 4]); // prettier-ignore
    near(centroid([[5, 5], [8, 5], [5, 11]]), [6, 7]); // prettier-ignore
  });
});
