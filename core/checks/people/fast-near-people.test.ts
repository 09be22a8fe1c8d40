import assert from "node:assert/strict";
import fc from "fast-check";
import { randomMove } from "../../../test/support/moves.ts";
import { IDENTITY_POSE } from "../../base/pose.ts";
import { seededRandom } from "../../base/random.ts";
import { runToEnd } from "../../base/task.ts";
import { planTrajectory } from "../../motion/plan.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import type { Body } from "../../rig/resolved-rig.ts";
import { createGap, measureGap } from "../../solid/gap.ts";
import { createPlaced, placeBodies, type Placed, type Space } from "../../space/space.ts";
import { createSeen } from "../seen.ts";
import { REDUCED_SPEED } from "../thresholds.ts";
import { bodySpeeds } from "./body-speeds.ts";
import { fastSpans } from "./fast-spans.ts";
import { peopleSpace, type PeopleSpace } from "./people-space.ts";

/** A random move of a rig with a box on every link, among two people. */
function scene(seed: number): { readonly trajectory: Trajectory; readonly around: PeopleSpace } {
  const random = seededRandom(seed + 1);
  const { move } = randomMove(seed);
  const solid = { shape: "box", size: [0.3, 0.2, 0.1] } as const;
  const bodies = move.rig.joints.map(({ name }, link): Body => ({ name, link, pose: IDENTITY_POSE, solid, origin: 0 }));
  const person = (name: string): Body => ({
    name,
    link: -1,
    pose: { ...IDENTITY_POSE, at: [2 * random() - 0.5, 3 * random() - 1.5, 0.9] },
    solid: { shape: "cylinder", radius: 0.3, height: 1.8 },
    origin: 0,
  });
  const whole = { ...move, rig: { ...move.rig, bodies }, people: [person("potter"), person("runner")] };
  const trajectory = runToEnd(planTrajectory(whole));
  return { trajectory, around: peopleSpace(whole)! };
}

function placedAt(trajectory: Trajectory, space: Space, t: number): Placed {
  const [placed, instant] = [createPlaced(space), trajectory.createInstant()];
  trajectory.poseAt(t, instant);
  placed.values.set(instant.value);
  placeBodies(space, placed);
  return placed;
}

function cornersOf(placed: Placed, body: number): number[][] {
  const [r, p] = [placed.rotations[body], placed.positions[body]];
  return Array.from({ length: 8 }, (_, k) => {
    const [x, y, z] = [k & 1 ? 0.15 : -0.15, k & 2 ? 0.1 : -0.1, k & 4 ? 0.05 : -0.05];
    return [0, 1, 2].map((row) => p[row] + r[3 * row] * x + r[3 * row + 1] * y + r[3 * row + 2] * z);
  });
}

describe("speeds of bodies", () => {
  it("agree with difference quotients of the places of their corners", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e5 }), (seed) => {
        const { trajectory, around } = scene(seed);
        const { space } = around;
        const speeds = bodySpeeds(trajectory, space);
        const h = 1e-4;
        for (let n = 0; n < 6; n++) {
          const t = trajectory.duration * (((n + 0.5) * 0.618034) % 1);
          if (trajectory.knots.some((knot) => Math.abs(knot - t) < 2 * h)) continue;
          speeds.look(t);
          const [before, after] = [placedAt(trajectory, space, t - h), placedAt(trajectory, space, t + h)];
          for (let body = 0; body < trajectory.move.rig.bodies.length; body++) {
            const [from, to] = [cornersOf(before, body), cornersOf(after, body)];
            const seen = Math.max(
              ...from.map((at, k) => Math.hypot(...at.map((part, i) => to[k][i] - part)) / (2 * h)),
            );
            const told = speeds.speedOf(body);
            assert.ok(Math.abs(seen - told) <= 1e-5 * (1 + told), `seed ${seed}: ${seen} seen, ${told} told`);
          }
        }
      }),
      { numRuns: 15, seed: 2 },
    );
  });
});

describe("what is fast near people", () => {
  // 250 mm/s: the reduced speed of ISO 10218-1, as told at second hand by gt-engineering.it on its clause 5.5.3.
  it("is told above the published reduced speed", () => assert.equal(REDUCED_SPEED, 0.25));

  it("is found wherever dense samples show it, with no slower worst instant", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e5 }), (seed) => {
        const { trajectory, around } = scene(seed);
        const { space, people } = around;
        const near = 0.6;
        const spans = runToEnd(fastSpans(around, trajectory, near, createSeen()));
        const again = createSeen();
        const first = runToEnd(fastSpans(around, trajectory, near, again));
        assert.deepEqual(runToEnd(fastSpans(around, trajectory, near, again)), first, "kept spans are the same");
        const speeds = bodySpeeds(trajectory, space);
        const gap = createGap();
        const count = 300;
        for (let i = 0; i <= count; i++) {
          const t = (trajectory.duration * i) / count;
          speeds.look(t);
          const { rotations: r, positions: p } = placedAt(trajectory, space, t);
          for (let person = people; person < space.bodies.length; person++) {
            const told = spans.find((span) => span.person === person && span.from - 1e-4 <= t && t <= span.to + 1e-4);
            let isFast = false;
            for (let body = 0; body < people; body++) {
              const speed = speeds.speedOf(body);
              if (speed <= REDUCED_SPEED * (1 + 1e-5)) continue;
              measureGap(
                space.bodies[body].convex,
                r[body],
                p[body],
                space.bodies[person].convex,
                r[person],
                p[person],
                gap,
              );
              if (near <= gap.distance) continue;
              isFast = true;
              if (gap.distance < near - 1e-4) {
                assert.ok(told, `seed ${seed} at ${t}: ${speed} m/s, ${gap.distance} m away`);
                assert.ok(speed <= told.speed * (1 + 1e-4), `seed ${seed} at ${t}`);
              }
            }
            const inner = told && told.from + 1e-4 < t && t < told.to - 1e-4;
            if (inner) assert.ok(isFast, `seed ${seed} at ${t}: told, not seen`);
          }
        }
      }),
      { numRuns: 8, seed: 3 },
    );
  });
});
