import assert from "node:assert/strict";
import fc from "fast-check";
import { anyBody, anyRotation, inSet, placedAt, reachInSet, type Placed } from "../../test/support/solids.ts";
import { placeCentre } from "./convex.ts";
import { depthBelow } from "./depth-below.ts";
import { supportOf } from "./support.ts";

const part = fc.integer({ min: -4000, max: 4000 }).map((steps) => steps / 1000);
const anyPlaced: fc.Arbitrary<Placed> = fc
  .tuple(anyBody(0.01, 2), fc.tuple(part, part, part), anyRotation)
  .map(([body, at, turn]) => placedAt(body, at, turn));

describe("what a placed body takes up", () => {
  it("lies in its ball", () => {
    const centre = new Float64Array(3);
    fc.assert(
      fc.property(anyPlaced, (placed) => {
        const { body, rotation, position } = placed;
        placeCentre(body.convex, rotation, position, centre, 0);
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
