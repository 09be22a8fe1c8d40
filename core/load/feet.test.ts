import assert from "node:assert/strict";
import fc from "fast-check";
import { optics } from "../../test/support/lenses.ts";
import { DEG, joint, riggedPose, rigOf } from "../../test/support/rigs.ts";
import { cross, dot, subtract, type Vec2, type Vec3 } from "../base/vec3.ts";
import { baseFrame, compileRig, type BaseFrame } from "../rig/chain.ts";
import { createLinkMotion, createPointMotion, fillFollowerRates, moveLinks, movePoint } from "../rig/link-motion.ts";
import type { ResolvedRig } from "../rig/resolved-rig.ts";
import { ballast, bearableInertia, feetOf, freeShare, nearestEdge } from "./feet.ts";
import { GRAVITY, massPoints, type MassPoints } from "./mass-points.ts";
import { createPull, pressOf, writePressurePoint, writePull, type Pull } from "./pressure-point.ts";

const WEIGHTLESS = optics({ bodyMass: 0, lensMass: 0 });
const LEVEL = baseFrame({ x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] });
const mass = (link: number, at: Vec3, kg: number) => ({ name: "m", link, at, mass: kg, origin: 0 });

interface Rates {
  readonly q: Float64Array;
  readonly speeds: Float64Array;
  readonly accels: Float64Array;
}

function pullOf(rig: ResolvedRig, points: MassPoints, { q, speeds, accels }: Rates, base = LEVEL, link = -1): Pull {
  const chain = compileRig(rig);
  const motion = createLinkMotion(chain);
  const pull = createPull();
  moveLinks(chain, base, q, speeds, accels, motion);
  writePull(base, motion, points, link, createPointMotion(), pull);
  return pull;
}

const still = (...values: number[]): Rates => {
  const zero = new Float64Array(values.length);
  return { q: Float64Array.from(values), speeds: zero, accels: zero };
};

const near = (found: number, wanted: number, tolerance = 1e-9): void =>
  assert.ok(Math.abs(found - wanted) < tolerance, `${found} is not ${wanted}`);

const square = (half: number): Vec2[] => [[-half, half], [half, -half], [half, half], [-half, -half]]; // prettier-ignore

describe("feet", () => {
  it("hold a base of 120 kg and 0.4 m half-width twice over against 12 kg 2.0 m beyond the edge", () => {
    const feet = feetOf(square(0.4));
    const rig = rigOf([joint("swing", "rotary", [0, 0, 1])], {
      masses: [mass(-1, [0, 0, 0.3], 120), mass(0, [2.4, 0, 1.5], 12)],
    });
    const pull = pullOf(rig, massPoints(rig, WEIGHTLESS), still(0));
    // 120 kg x 0.4 m = 48 kg m hold, 12 kg x 2.0 m = 24 kg m tip: factor 2, and 24 kg m over 132 kg are left to the edge.
    near(freeShare(feet, pull, 1), 24 / 132 / 0.4);
    const twice = rigOf(rig.joints, { masses: [mass(-1, [0, 0, 0.3], 120), mass(0, [2.4, 0, 1.5], 24)] });
    near(freeShare(feet, pullOf(twice, massPoints(twice, WEIGHTLESS), still(0)), 1), 0);
  });

  it("feel a mass that is braked as a pull forward at its height: x = c + h a / g", () => {
    const feet = feetOf(square(0.5));
    const rig = rigOf([joint("dolly", "linear", [1, 0, 0])], { masses: [mass(0, [0.1, 0, 1.5], 80)] });
    const rates = { q: Float64Array.of(0), speeds: Float64Array.of(1), accels: Float64Array.of(-2) };
    const at = new Float64Array(2);
    const onBase = pullOf(rig, massPoints(rig, WEIGHTLESS), rates);
    writePressurePoint(onBase, 1, at);
    near(at[0], 0.1 + (1.5 * 2) / GRAVITY);
    near(at[1], 0);
    near(pressOf(onBase, 1), 80 * GRAVITY);
    near(freeShare(feet, onBase, 1), (0.5 - at[0]) / 0.5);
    writePressurePoint(onBase, 0, at);
    near(at[0], 0.1);
  });

  it("go along with a link, turned as it is turned, and do not carry what is before it", () => {
    const rig = rigOf([joint("dolly", "linear", [1, 0, 0], [0, 0, 0.2]), joint("swing", "rotary", [0, 0, 1])], {
      masses: [mass(-1, [5, 5, 0], 500), mass(1, [0.3, 0, 1], 50)],
    });
    const at = new Float64Array(2);
    const standing = baseFrame({ x: 3, y: 4, floor: 0.1, heading: 40 * DEG, lean: [0, 0] });
    const pull = pullOf(rig, massPoints(rig, WEIGHTLESS), still(2, 90 * DEG), standing, 0);
    writePressurePoint(pull, 1, at);
    near(at[0], 0);
    near(at[1], 0.3);
    near(pressOf(pull, 1), 50 * GRAVITY);
  });

  it("feel a lean: a mass at height h on ground that leans by a presses h tan a lower down", () => {
    const rig = rigOf([joint("swing", "rotary", [0, 0, 1])], { masses: [mass(0, [0, 0, 2], 40)] });
    const at = new Float64Array(2);
    const pitched = baseFrame({ x: 0, y: 0, floor: 0, heading: 0, lean: [0, 5 * DEG] });
    writePressurePoint(pullOf(rig, massPoints(rig, WEIGHTLESS), still(0), pitched), 1, at);
    near(at[0], 2 * Math.tan(5 * DEG));
    near(at[1], 0);
  });

  const part = (size: number): fc.Arbitrary<number> => fc.double({ min: -size, max: size, noNaN: true });
  const moving = fc.record({
    posed: riggedPose,
    rates: fc.array(fc.tuple(part(1), part(3)), { minLength: 10, maxLength: 10 }),
    at: fc.array(fc.tuple(part(1), part(1), part(1)), { minLength: 3, maxLength: 3 }),
    lean: fc.tuple(part(0.2), part(0.2)),
    heading: part(3),
  });

  interface Loaded {
    readonly pull: Pull;
    readonly base: BaseFrame;
    readonly rig: ResolvedRig;
    readonly rates: Rates;
    readonly points: MassPoints;
  }

  function loaded({ posed: { rig, q }, ...given }: typeof moving extends fc.Arbitrary<infer T> ? T : never): Loaded {
    const last = rig.joints.length - 1;
    const masses = [mass(last, given.at[0], 3), mass(last >> 1, given.at[1], 7), mass(-1, given.at[2], 40)];
    const heavy = { ...rig, masses };
    const chain = compileRig(heavy);
    const speeds = Float64Array.from(q, (_, i) => given.rates[i][0]);
    const accels = Float64Array.from(q, (_, i) => given.rates[i][1]);
    fillFollowerRates(chain, speeds);
    fillFollowerRates(chain, accels);
    const base = baseFrame({ x: 1, y: 2, floor: 0, heading: given.heading, lean: given.lean });
    const points = massPoints(heavy, optics({}));
    const rates = { q, speeds, accels };
    return { pull: pullOf(heavy, points, rates, base), base, rig: heavy, rates, points };
  }

  /** In the set: where a place of the base's floor is. */
  const inSet = ({ rotation: r, position: p }: BaseFrame, [x, y]: Vec2): Vec3 => [
    p[0] + r[0] * x + r[1] * y,
    p[1] + r[3] * x + r[4] * y,
    p[2] + r[6] * x + r[7] * y,
  ];

  it("are left where the moments of weight and inertia about an edge, summed in the set, turn over: 300 random rigs", () => {
    fc.assert(
      fc.property(moving, (given) => {
        const { pull, base, rig, rates, points } = loaded(given);
        if (pressOf(pull, 1) < 50) return;
        const feet = feetOf([[-1, -0.8], [1.2, -1], [0.9, 1], [-1, 0.7]]); // prettier-ignore
        const chain = compileRig(rig);
        const motion = createLinkMotion(chain);
        const point = createPointMotion();
        moveLinks(chain, base, rates.q, rates.speeds, rates.accels, motion);
        let least = Infinity;
        for (let e = 0; e < feet.count; e++) {
          const [nx, ny, offset] = feet.edges.subarray(3 * e, 3 * e + 3);
          const foot = inSet(base, [nx * offset, ny * offset]);
          const along = subtract(inSet(base, [nx * offset + ny, ny * offset - nx]), foot);
          let [moment, press] = [0, 0];
          for (let k = 0; k < points.count; k++) {
            movePoint(base, motion, points.link[k], points.at, 3 * k, point);
            const a = point.acceleration;
            const m = points.mass[k];
            const force: Vec3 = [-m * a[0], -m * a[1], -m * (a[2] + GRAVITY)];
            const arm = subtract([point.position[0], point.position[1], point.position[2]], foot);
            moment += dot(cross(arm, force), along);
            press -= force[0] * base.rotation[2] + force[1] * base.rotation[5] + force[2] * base.rotation[8];
          }
          least = Math.min(least, -moment / press / feet.reach[e]);
        }
        near(freeShare(feet, pull, 1), least, 1e-9 * Math.max(1, Math.abs(least)));
      }),
      { numRuns: 300, seed: 406 },
    );
  });

  it("leave what is asked at the speed and with the ballast that are named: 1,000 random rigs", () => {
    let [slowed, weighted] = [0, 0];
    fc.assert(
      fc.property(moving, (given) => {
        const { pull, base, rig, rates } = loaded(given);
        const feet = feetOf([[-1, -0.8], [1.2, -1], [0.9, 1], [-1, 0.7]]); // prettier-ignore
        if (pressOf(pull, 1) < 50) return;
        const share = freeShare(feet, pull, 1);
        const standing = freeShare(feet, pull, 0);
        if (share < standing - 1e-6) {
          slowed++;
          const between = 0.6 * standing + 0.4 * share;
          const most = bearableInertia(feet, pull, between);
          assert.ok(0 < most && most < 1);
          near(freeShare(feet, pull, most), between, 1e-9 * Math.max(1, Math.abs(between)));
          assert.equal(bearableInertia(feet, pull, standing + 0.01), 0);
        }
        near(bearableInertia(feet, pull, Math.min(share, standing) - 1e-9), 1);
        if (0.2 <= share) return;
        weighted++;
        const more = ballast(pull, share, 0.2);
        const [x, y] = feet.middle;
        const heavier = { ...rig, masses: [...rig.masses, mass(-1, [x, y, 0], more)] };
        const after = freeShare(feet, pullOf(heavier, massPoints(heavier, optics({})), rates, base), 1);
        near(after, 0.2, 1e-9);
      }),
      { numRuns: 1000, seed: 407 },
    );
    assert.ok(50 < slowed && 50 < weighted, `${slowed} slowed, ${weighted} weighted`);
  });

  it("stand on the hull of what is given, and press nowhere where a rig would lift off", () => {
    const feet = feetOf([[0, 0], [1, 1], [1, 0], [0, 1], [0.5, 0.4]]); // prettier-ignore
    assert.equal(feet.count, 4);
    const rig = rigOf([joint("column", "linear", [0, 0, 1])], { masses: [mass(0, [0.2, 0.5, 1], 10)] });
    const falling = { q: Float64Array.of(0), speeds: Float64Array.of(0), accels: Float64Array.of(-12) };
    const pull = pullOf(rig, massPoints(rig, WEIGHTLESS), falling);
    assert.equal(freeShare(feet, pull, 1), -Infinity);
    near(freeShare(feet, pull, 0), 0.4);
    const [nx] = feet.edges.subarray(3 * nearestEdge(feet, pull, 0));
    near(nx, 1);
  });
});
