import assert from "node:assert/strict";
import fc from "fast-check";
import { seededRandom } from "../../base/random.ts";
import { matrixFromQuat, quatFromRollPitchYaw } from "../../base/quat.ts";
import { convexOf, convexOfPoints, type Convex } from "../../solid/convex.ts";
import { fastestPoint, type RigidMotion } from "./fastest-point.ts";

const near = (actual: number, expected: number, within = 1e-12): void =>
  assert.ok(Math.abs(actual - expected) <= within * Math.max(1, expected), `${actual} is not ${expected}`);

const motion = (turning: number[], velocity: number[], at: number[] = [0, 0, 0]): RigidMotion => ({
  turning: Float64Array.from(turning),
  velocity: Float64Array.from(velocity),
  at: Float64Array.from(at),
});
const UPRIGHT = [1, 0, 0, 0, 1, 0, 0, 0, 1];

describe("the fastest point of a body", () => {
  it("is v everywhere where nothing turns, and w r where it turns about a pivot", () => {
    const box = convexOf({ shape: "box", size: [0.2, 0.4, 0.6] })!;
    near(fastestPoint(box, UPRIGHT, [3, 1, 0], motion([0, 0, 0], [0.3, 0, 0.4])), 0.5);
    // A corner of the box is hypot(0.1, 0.2) from the upright axis through its middle.
    near(fastestPoint(box, UPRIGHT, [0, 0, 0], motion([0, 0, 2], [0, 0, 0])), 2 * Math.hypot(0.1, 0.2));
    const arm = convexOf({ shape: "capsule", radius: 0.05, height: 2 })!;
    // Its far end: 0.95 m and the cap from the middle.
    near(fastestPoint(arm, UPRIGHT, [0, 0, 0], motion([0.5, 0, 0], [0, 0, 0])), 0.5 * 1);
    const ball = convexOf({ shape: "sphere", radius: 0.25 })!;
    // Rolling without slip: the top is twice as fast as the middle.
    near(fastestPoint(ball, UPRIGHT, [0, 0, 0.25], motion([0, 4, 0], [1, 0, 0], [0, 0, 0.25])), 2);
    const wheel = convexOf({ shape: "cylinder", radius: 0.5, height: 0.2 })!;
    near(fastestPoint(wheel, UPRIGHT, [0, 0, 0], motion([0, 0, 3], [1.5, 0, 0])), 3);
    // Tumbling end over end about its middle: the rim is hypot(0.5, 0.1) from it.
    near(fastestPoint(wheel, UPRIGHT, [0, 0, 0], motion([3, 0, 0], [0, 0, 0])), 3 * Math.hypot(0.5, 0.1));
  });

  it("is as fast as the fastest of many points of the body, for any body and motion", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e6 }), (seed) => {
        const random = seededRandom(seed);
        const part = (): number => 2 * random() - 1;
        const [a, b, c] = [0.05 + random(), 0.05 + random(), 0.05 + random()];
        const bodies: Convex[] = [
          convexOf({ shape: "box", size: [a, b, c] })!,
          convexOf({ shape: "cylinder", radius: a / 2, height: c })!,
          convexOf({ shape: "capsule", radius: a / 2, height: a + c })!,
          convexOf({ shape: "sphere", radius: a })!,
          convexOfPoints(Array.from({ length: 30 }, part), 0.1 * random()),
        ];
        const rotation = new Float64Array(9);
        matrixFromQuat(quatFromRollPitchYaw(3 * part(), 3 * part(), 3 * part()), rotation);
        const position = [part(), part(), part()];
        const moving = motion([part(), part(), part()], [part(), part(), part()], [part(), part(), part()]);
        for (const body of bodies) {
          const told = fastestPoint(body, rotation, position, moving);
          const seen = fastestSeen(body, rotation, position, moving);
          assert.ok(seen <= told + 1e-12, `${body.core} of seed ${seed}: ${seen} seen, ${told} told`);
          assert.ok(told <= seen * 1.002 + 1e-9, `${body.core} of seed ${seed}: ${seen} seen, ${told} told`);
        }
      }),
      { numRuns: 20, seed: 9 },
    );
  });
});

/** By looking at points all over the surface. */
function fastestSeen(body: Convex, r: Float64Array, p: number[], { turning: w, velocity, at }: RigidMotion): number {
  let most = 0;
  for (const core of corePoints(body)) {
    for (const step of body.rounding > 0 ? DIRECTIONS : [[0, 0, 0]]) {
      const d = [0, 1, 2].map((row) => {
        const turned = r[3 * row] * core[0] + r[3 * row + 1] * core[1] + r[3 * row + 2] * core[2];
        return p[row] + turned + body.rounding * step[row] - at[row];
      });
      const v = [
        velocity[0] + w[1] * d[2] - w[2] * d[1],
        velocity[1] + w[2] * d[0] - w[0] * d[2],
        velocity[2] + w[0] * d[1] - w[1] * d[0],
      ];
      most = Math.max(most, Math.hypot(...v));
    }
  }
  return most;
}

/** Evenly over the ball: a spiral of Fibonacci. */
const DIRECTIONS = Array.from({ length: 4000 }, (_, i) => {
  const z = 1 - (2 * i + 1) / 4000;
  const [flat, turn] = [Math.sqrt(1 - z * z), i * Math.PI * (3 - Math.sqrt(5))];
  return [flat * Math.cos(turn), flat * Math.sin(turn), z];
});

function corePoints({ core, x, y, z, points }: Convex): number[][] {
  const signs = [-1, 1];
  switch (core) {
    case "point":
      return [[0, 0, 0]];
    case "segment":
      return signs.map((s) => [0, 0, s * z]);
    case "box":
      return signs.flatMap((i) => signs.flatMap((j) => signs.map((k) => [i * x, j * y, k * z])));
    case "cylinder":
      return Array.from({ length: 2000 }, (_, i) => (2 * Math.PI * i) / 2000).flatMap((phi) =>
        signs.map((k) => [x * Math.cos(phi), x * Math.sin(phi), k * z]),
      );
    case "points":
      return Array.from({ length: points.length / 3 }, (_, i) => Array.from(points.subarray(3 * i, 3 * i + 3)));
  }
}
