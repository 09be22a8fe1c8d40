import assert from "node:assert/strict";
import fc from "fast-check";
import {
  anyBody,
  anyRotation,
  inSet,
  placedAt,
  reachInSet,
  type Placed,
  type Triple,
} from "../../test/support/solids.ts";
import { placeBounds, reachAlong } from "./bounds.ts";
import { createObstacleIndex } from "./broad-phase.ts";
import { placeCentre } from "./convex.ts";
import { depthBelow } from "./depth-below.ts";
import { supportOf } from "./support.ts";

const part = fc.integer({ min: -4000, max: 4000 }).map((steps) => steps / 1000);
const anyPlaced: fc.Arbitrary<Placed> = fc
  .tuple(anyBody(0.01, 2), fc.tuple(part, part, part), anyRotation)
  .map(([body, at, turn]) => placedAt(body, at, turn));

const AXES: readonly Triple[] = [[1, 0, 0], [0, 1, 0], [0, 0, 1]]; // prettier-ignore

describe("what a placed body takes up", () => {
  it("is the box that its extents say, and lies in its ball", () => {
    const [bounds, centre] = [new Float64Array(8), new Float64Array(3)];
    fc.assert(
      fc.property(anyPlaced, (placed) => {
        const { body, rotation, position } = placed;
        placeBounds(body.convex, rotation, position, bounds, 1);
        placeCentre(body.convex, rotation, position, centre, 0);
        AXES.forEach((d, k) => {
          const [low, high] = [-reachInSet(placed, [-d[0], -d[1], -d[2]]), reachInSet(placed, d)];
          assert.ok(Math.abs(bounds[1 + k] - low) < 1e-12 && Math.abs(bounds[4 + k] - high) < 1e-12);
        });
        for (const at of body.skin(40).map((point) => inSet(placed, point))) {
          assert.ok(Math.hypot(...at.map((value, k) => value - centre[k])) <= body.convex.radius + 1e-12);
        }
      }),
      { seed: 71, numRuns: 500 },
    );
  });

  it("reaches as far along a direction as its farthest point", () => {
    const point = new Float64Array(4);
    fc.assert(
      fc.property(anyPlaced, anyRotation, ({ body }, [x, y, z]) => {
        supportOf(body.convex, x, y, z, point, 1);
        const far = x * point[1] + y * point[2] + z * point[3] + body.convex.rounding;
        assert.ok(Math.abs(far - body.reach([x, y, z])) < 1e-12);
        assert.ok(Math.abs(reachAlong(body.convex, x, y, z) - far) < 1e-12);
      }),
      { seed: 72, numRuns: 500 },
    );
  });

  it("reaches below the floor by what its lowest point does", () => {
    const lowest = new Float64Array(3);
    fc.assert(
      fc.property(anyPlaced, part, (placed, height) => {
        const depth = depthBelow(placed.body.convex, placed.rotation, placed.position, height, lowest);
        assert.ok(Math.abs(depth - (height + reachInSet(placed, [0, 0, -1]))) < 1e-12);
        assert.ok(Math.abs(height - lowest[2] - depth) < 1e-12);
        for (const at of placed.body.skin(40)) assert.ok(inSet(placed, at)[2] >= height - depth - 1e-12);
      }),
      { seed: 73, numRuns: 500 },
    );
  });
});

describe("the index of what stands near", () => {
  it("names each body whose box comes near a point, once, as looking at all of them does", () => {
    const radius = fc.integer({ min: 0, max: 3000 }).map((steps) => steps / 1000);
    fc.assert(
      fc.property(fc.array(anyPlaced, { maxLength: 40 }), fc.tuple(part, part, part), radius, (all, at, r) => {
        const bounds = new Float64Array(6 * all.length);
        all.forEach(({ body, rotation, position }, idx) =>
          placeBounds(body.convex, rotation, position, bounds, 6 * idx),
        );
        const index = createObstacleIndex(bounds);
        const found: number[] = [];
        index.near(at, r, (obstacle) => found.push(obstacle));
        const wanted = all.flatMap((_, idx) => {
          const away = at.map((value, k) => Math.max(bounds[6 * idx + k] - value, 0, value - bounds[6 * idx + k + 3]));
          return away[0] ** 2 + away[1] ** 2 + away[2] ** 2 <= r * r ? [idx] : [];
        });
        assert.deepEqual(found.sort((a, b) => a - b), wanted); // prettier-ignore
        assert.equal(index.count, all.length);
      }),
      { seed: 74, numRuns: 500 },
    );
  });
});
