import assert from "node:assert/strict";
import fc from "fast-check";
import { optics } from "../../test/support/lenses.ts";
import { DEG, floorRig, joint, riggedPose, rigOf } from "../../test/support/rigs.ts";
import { baseFrame, compileRig, createPoseBuffer, fillFollowers, forward, ownFrame } from "../rig/chain.ts";
import { createLinkMotion, createPointMotion, moveLinks, movePoint } from "../rig/link-motion.ts";
import type { ResolvedRig } from "../rig/resolved-rig.ts";
import { pivotOf, writeArmMoment, type ArmMoment } from "./arm-moment.ts";
import { GRAVITY, massPoints } from "./mass-points.ts";

const WEIGHTLESS = optics({ bodyMass: 0, lensMass: 0 });
const mass = (link: number, at: readonly [number, number, number], kg: number) => ({ name: "m", link, at, mass: kg, origin: 0 }); // prettier-ignore
const weight = (link: number, at: readonly [number, number, number], kg: number) => ({ link, at, mass: kg, massOrigin: 0, toleranceOrigin: 0 }); // prettier-ignore

function momentOf(rig: ResolvedRig, q: Float64Array, base = ownFrame(), camera = WEIGHTLESS): ArmMoment {
  const chain = compileRig(rig);
  const pose = createPoseBuffer(chain);
  fillFollowers(chain, q);
  forward(chain, base, q, pose);
  const out: ArmMoment = { load: 0, perWeight: 0, level: 0, radius: 0 };
  const place = rig.counterweight;
  const pivot = place && pivotOf(chain, place.link);
  assert.ok(place && pivot !== undefined);
  writeArmMoment(chain, pose, massPoints(rig, camera), pivot, place, new Float64Array(3), out);
  return out;
}

const near = (found: number, wanted: number, tolerance = 1e-9): void =>
  assert.ok(Math.abs(found - wanted) < tolerance, `${found} is not ${wanted}`);

describe("moment of an arm", () => {
  const lift = rigOf([joint("lift", "rotary", [0, -1, 0], [0, 0, 1.2])], {
    masses: [mass(0, [2.4, 0, 0], 12)],
    counterweight: weight(0, [-0.6, 0, 0], 48),
  });

  it("is the weight times its arm: 12 kg at 2.4 m make 282.432 N·m, which 48 kg at 0.6 m balance", () => {
    const level = momentOf(lift, Float64Array.of(0));
    // Σ m g r = 0, with 9.80665 m/s²: 12 x 2.4 x 9.80665 = 282.43152.
    near(Math.abs(level.load), 12 * 2.4 * GRAVITY);
    near(Math.round(Math.abs(level.load) * 1000) / 1000, 282.432);
    near(level.load + 48 * level.perWeight, 0);
    near(level.level, 282.43152);
    near(level.radius, 0.6);
    const raised = momentOf(lift, Float64Array.of(60 * DEG));
    near(raised.load, level.load / 2);
    near(raised.level, level.level);
  });

  it("grows by 1.1768 N·m where a head of 8 kg hangs 15 mm off its axis", () => {
    const head = rigOf([joint("tilt", "rotary", [0, -1, 0])], {
      masses: [mass(0, [0.015, 0, 0.3], 8)],
      counterweight: weight(0, [-0.1, 0, 0], 1),
    });
    near(Math.round(Math.abs(momentOf(head, Float64Array.of(0)).load) * 1e4) / 1e4, 1.1768);
  });

  it("takes the load of a head that a parallelogram keeps upright as if it hung on the end of the arm", () => {
    // The head's own offsets do not turn with the arm: only the boom's length counts.
    const rig = floorRig({ masses: [mass(6, [0.3, 0.1, -0.4], 5)], counterweight: weight(3, [-0.6, 0, 0], 10) });
    const q = Float64Array.of(1, 1, 0.5, 25 * DEG, 1.2, 0, 0, 0, 0);
    const moment = momentOf(rig, q);
    near(Math.abs(moment.load), 5 * GRAVITY * 1.2 * Math.cos(25 * DEG));
    near(Math.abs(moment.perWeight), GRAVITY * 0.6 * Math.cos(25 * DEG));
  });

  it("is nothing about an axis that stands upright, and little about one that leans a little", () => {
    const swing = rigOf([joint("swing", "rotary", [0, 0, 1])], {
      masses: [mass(0, [2, 0, 0], 10)],
      counterweight: weight(0, [-1, 0, 0], 5),
    });
    near(momentOf(swing, Float64Array.of(0.4)).load, 0);
    const lean = baseFrame({ x: 0, y: 0, floor: 0, heading: 0, lean: [0.5 * DEG, 0] });
    near(Math.abs(momentOf(swing, Float64Array.of(0), lean).load), 20 * GRAVITY * Math.sin(0.5 * DEG));
  });

  it("is the work of gravity over the pivot's angle: difference quotients of the height of all masses, 300 random rigs", () => {
    const part = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        riggedPose,
        fc.array(fc.tuple(part, part, part), { minLength: 4, maxLength: 4 }),
        ({ rig, q }, at) => {
          const last = rig.joints.length - 1;
          const masses = [mass(last, at[0], 3), mass(last >> 1, at[1], 2), mass(-1, at[2], 9)];
          const loaded = { ...rig, masses, counterweight: weight(last, at[3], 4) };
          const chain = compileRig(loaded);
          const pivot = pivotOf(chain, last);
          if (pivot === undefined || Math.abs(chain.rootRatio[pivot]) < 0.05) return;
          const base = baseFrame({ x: 1, y: -1, floor: 0.2, heading: 0.7, lean: [0.1, -0.05] });
          const camera = optics({});
          const points = massPoints(loaded, camera);
          const energies = (step: number): [number, number] => {
            const values = Float64Array.from(q);
            values[chain.root[pivot]] += step / chain.rootRatio[pivot];
            fillFollowers(chain, values);
            const motion = createLinkMotion(chain);
            const point = createPointMotion();
            const zero = new Float64Array(chain.count);
            moveLinks(chain, base, values, zero, zero, motion);
            let [load, one] = [0, 0];
            for (let k = 0; k < points.count; k++) {
              movePoint(base, motion, points.link[k], points.at, 3 * k, point);
              if (k === points.counterweight) one = GRAVITY * point.position[2];
              else load += points.mass[k] * GRAVITY * point.position[2];
            }
            return [load, one];
          };
          const [more, less] = [energies(1e-5), energies(-1e-5)];
          const moment = momentOf(loaded, q, base, camera);
          const scale = 1 + Math.abs(1 / chain.rootRatio[pivot]) ** 3;
          near(moment.load, (less[0] - more[0]) / 2e-5, 1e-5 * scale);
          near(moment.perWeight, (less[1] - more[1]) / 2e-5, 1e-5 * scale);
        },
      ),
      { numRuns: 300, seed: 405 },
    );
  });

  it("counts camera, lens and attachments at the mount", () => {
    const camera = optics({
      bodyMass: 2,
      bodyMassAt: [-0.05, 0, 0],
      lensMass: 1,
      lensMassAt: [0.06, 0, 0],
      attachments: [{ name: "box", box: [0.1, 0.1, 0.1], at: [0.12, 0, 0.05], mass: 0.5 }],
    });
    const rig = rigOf([joint("lift", "rotary", [0, -1, 0])], {
      mount: { at: [1, 0, 0], turn: [0, 0, 0, 1] },
      counterweight: weight(0, [-1, 0, 0], 1),
    });
    const moment = momentOf(rig, Float64Array.of(0), ownFrame(), camera);
    near(Math.abs(moment.load), GRAVITY * (2 * 0.95 + 1 * 1.06 + 0.5 * 1.12));
  });
});
