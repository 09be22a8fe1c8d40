import assert from "node:assert/strict";
import fc from "fast-check";
import { DEG, joint, riggedPose, rigOf } from "../../test/support/rigs.ts";
import { baseFrame, compileRig, createPoseBuffer, fillFollowers, forward, type BaseFrame } from "./chain.ts";
import { jacobian } from "./jacobian.ts";
import { createLinkMotion, createPointMotion, fillFollowerRates, moveLinks, movePoint } from "./link-motion.ts";
import type { ResolvedRig } from "./resolved-rig.ts";

const STEP = 1e-3;
/** Central difference quotients with seven points, of order six in the step (Fornberg, 1988, table 1). */
const FIRST = [-1 / 60, 3 / 20, -3 / 4, 0, 3 / 4, -3 / 20, 1 / 60];
const SECOND = [1 / 90, -3 / 20, 3 / 2, -49 / 18, 3 / 2, -3 / 20, 1 / 90];

const part = (size: number): fc.Arbitrary<number> => fc.double({ min: -size, max: size, noNaN: true });
const three = fc.tuple(part(1), part(1), part(1));

const moving = fc.record({
  posed: riggedPose,
  speeds: fc.array(part(1.5), { minLength: 10, maxLength: 10 }),
  accels: fc.array(part(2), { minLength: 10, maxLength: 10 }),
  place: fc.record({ x: part(3), y: part(3), floor: part(1), heading: part(3), lean: fc.tuple(part(0.3), part(0.3)) }),
  at: three,
});

/** All joints at time `t` of a motion with constant accelerations. */
function jointsAt(rig: ResolvedRig, q: Float64Array, speeds: Float64Array, accels: Float64Array, t: number) {
  const chain = compileRig(rig);
  const values = q.map((value, i) => value + speeds[i] * t + (accels[i] * t * t) / 2);
  fillFollowers(chain, values);
  return { chain, values };
}

/** A point of a link by forward kinematics alone. */
function placed(
  rig: ResolvedRig,
  base: BaseFrame,
  values: Float64Array,
  link: number,
  at: readonly number[],
): number[] {
  const chain = compileRig(rig);
  const pose = createPoseBuffer(chain);
  forward(chain, base, values, pose);
  return [0, 1, 2].map((row) =>
    at.reduce((sum, x, k) => sum + pose.rotations[9 * link + 3 * row + k] * x, pose.positions[3 * link + row]),
  );
}

const near = (actual: ArrayLike<number>, expected: ArrayLike<number>, tolerance: number, what: string): void => {
  for (let k = 0; k < expected.length; k++) {
    const allowed = tolerance * Math.max(1, Math.abs(expected[k]));
    assert.ok(Math.abs(actual[k] - expected[k]) < allowed, `${what}[${k}]: ${actual[k]} is not ${expected[k]}`);
  }
};

describe("motion of links", () => {
  it("agrees with difference quotients of the pose at a point of every link of 300 random rigs on a leaning base", () => {
    fc.assert(
      fc.property(moving, ({ posed: { rig, q }, place, at, ...rates }) => {
        const base = baseFrame(place);
        const speeds = Float64Array.from(q, (_, i) => rates.speeds[i]);
        const accels = Float64Array.from(q, (_, i) => rates.accels[i]);
        const chain = compileRig(rig);
        fillFollowerRates(chain, speeds);
        fillFollowerRates(chain, accels);
        const motion = createLinkMotion(chain);
        const point = createPointMotion();
        moveLinks(chain, base, q, speeds, accels, motion);
        const row = FIRST.map((_, k) => jointsAt(rig, q, speeds, accels, (k - 3) * STEP).values);
        for (let link = 0; link < chain.count; link++) {
          movePoint(base, motion, link, at, 0, point);
          const places = row.map((values) => placed(rig, base, values, link, at));
          const quotient = (weights: readonly number[], by: number): number[] =>
            [0, 1, 2].map((axis) => weights.reduce((sum, w, k) => sum + w * places[k][axis], 0) / by);
          near(point.position, places[3], 1e-12, `position of link ${link}`);
          near(point.velocity, quotient(FIRST, STEP), 1e-9, `velocity of link ${link}`);
          near(point.acceleration, quotient(SECOND, STEP * STEP), 1e-6, `acceleration of link ${link}`);
        }
      }),
      { numRuns: 300, seed: 401 },
    );
  });

  it("gives the last link the velocity and the turning that the Jacobian gives it", () => {
    fc.assert(
      fc.property(moving, ({ posed: { rig, q }, place, at, ...rates }) => {
        const base = baseFrame(place);
        const chain = compileRig(rig);
        const speeds = Float64Array.from(q, (_, i) => rates.speeds[i]);
        fillFollowerRates(chain, speeds);
        const motion = createLinkMotion(chain);
        const point = createPointMotion();
        const last = chain.count - 1;
        moveLinks(chain, base, q, speeds, new Float64Array(chain.count), motion);
        movePoint(base, motion, last, at, 0, point);
        const columns = new Float64Array(6 * chain.count);
        jacobian(chain, motion.pose, point.position, columns);
        const rate = [0, 1, 2, 3, 4, 5].map((k) => speeds.reduce((sum, s, i) => sum + s * columns[6 * i + k], 0));
        near(point.velocity, rate.slice(0, 3), 1e-11, "velocity");
        near(motion.turning.subarray(3 * last), rate.slice(3), 1e-12, "turning");
      }),
      { numRuns: 300, seed: 402 },
    );
  });

  it("turns the directions of a link at its angular velocity and acceleration", () => {
    fc.assert(
      fc.property(moving, ({ posed: { rig, q }, place, ...rates }) => {
        const base = baseFrame(place);
        const chain = compileRig(rig);
        const speeds = Float64Array.from(q, (_, i) => rates.speeds[i]);
        const accels = Float64Array.from(q, (_, i) => rates.accels[i]);
        fillFollowerRates(chain, speeds);
        fillFollowerRates(chain, accels);
        const turningAt = (t: number): Float64Array => {
          const { values } = jointsAt(rig, q, speeds, accels, t);
          const motion = createLinkMotion(chain);
          const faster = speeds.map((speed, i) => speed + accels[i] * t);
          moveLinks(chain, base, values, faster, accels, motion);
          return t === 0 ? motion.turningRate : motion.turning;
        };
        const row = FIRST.map((_, k) => (k === 3 ? new Float64Array(3 * chain.count) : turningAt((k - 3) * STEP)));
        const quotient = row[0].map((_, i) => FIRST.reduce((sum, w, k) => sum + w * row[k][i], 0) / STEP);
        near(turningAt(0), quotient, 1e-8, "angular acceleration");
      }),
      { numRuns: 300, seed: 403 },
    );
  });

  it("pulls a point on a turning arm inwards with v²/r, and along with r times the angular acceleration", () => {
    const rig = rigOf([joint("swing", "rotary", [0, 0, 1], [0, 0, 1])]);
    const chain = compileRig(rig);
    const base = baseFrame({ x: 1, y: 2, floor: 0, heading: 30 * DEG, lean: [0, 0] });
    const motion = createLinkMotion(chain);
    const point = createPointMotion();
    const [r, w, e] = [2.4, 0.7, 0.3];
    moveLinks(chain, base, Float64Array.of(60 * DEG), Float64Array.of(w), Float64Array.of(e), motion);
    movePoint(base, motion, 0, [r, 0, 0.2], 0, point);
    // Heading and swing make 90 degrees: the arm points along y.
    const v = w * r;
    near(point.position, [1, 2 + r, 1.2], 1e-12, "position");
    near(point.velocity, [-v, 0, 0], 1e-12, "velocity");
    near(point.acceleration, [-e * r, (-v * v) / r, 0], 1e-12, "acceleration");
    near(motion.acceleration, [0, 0, 0], 1e-15, "acceleration of the axis");
  });

  it("adds twice turning times sliding where a boom slides out on a turning arm (Coriolis)", () => {
    const rig = rigOf([joint("swing", "rotary", [0, 0, 1]), joint("boom", "linear", [1, 0, 0])]);
    const chain = compileRig(rig);
    const base = baseFrame({ x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] });
    const motion = createLinkMotion(chain);
    moveLinks(chain, base, Float64Array.of(0, 1.5), Float64Array.of(0.8, 0.4), new Float64Array(2), motion);
    near(motion.velocity.subarray(3), [0.4, 0.8 * 1.5, 0], 1e-12, "velocity");
    near(motion.acceleration.subarray(3), [-0.64 * 1.5, 2 * 0.8 * 0.4, 0], 1e-12, "acceleration");
  });

  it("leaves a point of the base at rest where it stands", () => {
    const rig = rigOf([joint("swing", "rotary", [0, 0, 1])]);
    const base = baseFrame({ x: 1, y: 2, floor: 0.5, heading: 90 * DEG, lean: [0, 0] });
    const motion = createLinkMotion(compileRig(rig));
    const point = createPointMotion();
    movePoint(base, motion, -1, [9, 1, 0, 0.25], 1, point);
    near(point.position, [1, 3, 0.75], 1e-12, "position");
    near([...point.velocity, ...point.acceleration], [0, 0, 0, 0, 0, 0], 1e-15, "rates");
  });
});
