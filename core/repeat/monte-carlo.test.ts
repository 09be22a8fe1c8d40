import assert from "node:assert/strict";
import { analyseFixture } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { seededRandom } from "../base/random.ts";
import { project } from "../lens/project.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { baseFrame, compileRig, createPoseBuffer, forward, pupilPosition } from "../rig/chain.ts";
import { approachOf } from "./approach.ts";
import { againstFirst, againstPlan } from "./pass-variances.ts";
import { repeatAxes } from "./repeat-axes.ts";
import { createSensitivity } from "./sensitivity.ts";
import { radiusHolding, spreadOf } from "./spread.ts";
import { travelAlong, travelBack } from "./travel.ts";

const PASSES = 20_000;

interface Case {
  readonly name: string;
  readonly rig: string;
  readonly axes: readonly [string, string];
  readonly extra?: string;
  /** Places in the text of the rig that get a `repeat`. */
  readonly repeat: Readonly<Record<string, string>>;
}

const CASES: readonly Case[] = [
  {
    name: "slider",
    rig: "slider",
    axes: ["slide: -0.4, plate: 0", "slide: 0.5, plate: 60"],
    repeat: {
      slide: "{ sigma: 0.3 mm, slip: 0.4 mm/m, backlash: 0.4 mm }",
      pan: "{ sigma: 0.01 deg, backlash: 0.02 deg }",
      tilt: "{ sigma: 0.004 deg }",
    },
  },
  {
    name: "crane, whose level follows its lift",
    rig: "crane",
    axes: ["swing: -20, lift: 10", "swing: 15, lift: -12"],
    repeat: {
      swing: "{ sigma: 0.02 deg, slip: 0.0003, backlash: 0.03 deg }",
      lift: "{ sigma: 0.02 deg, backlash: 0.02 deg }",
      level: "{ sigma: 0.01 deg }",
      pan: "{ sigma: 0.01 deg }",
    },
  },
  {
    name: "telescope",
    rig: "telescope",
    axes: ["swing: -10, lift: 10, tube: -0.3", "swing: 15, lift: -12, tube: 0.4"],
    repeat: {
      swing: "{ sigma: 0.005 deg }",
      tube: "{ sigma: 0.2 mm, slip: 1 mm/m, backlash: 1 mm }",
      tilt: "{ sigma: 0.01 deg, backlash: 0.03 deg }",
    },
  },
];

/** The rig of the kit with `repeat` beside the limits of some axes. */
function rigText({ rig, repeat }: Case): string {
  return KIT[`${rig}.rig.yaml`].replace(/(axis: (\w+), .*)\}$/gm, (line, start: string, axis: string) =>
    repeat[axis] === undefined ? line : `${start}, repeat: ${repeat[axis]} }`,
  );
}

function trajectoryOf(each: Case): Trajectory {
  const text = `
#- m.move.yaml
move: 1
rig: ${each.rig}.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { ${each.axes[0]} }, aim: { at: spot, framing: [0.4, 0.55] } }
  - { at: 6 s, axes: { ${each.axes[1]} }, aim: { at: spot, framing: [0.62, 0.5] } }
`;
  const set = KIT["table.set.yaml"]
    .replace("targets:", "targets:\n  spot: { at: [0.11, 0.05, 0.06], on: plate }")
    .replace("limits: { speed: 40", "repeat: { sigma: 0.05 deg, slip: 0.0002 }, limits: { speed: 40");
  const camera = KIT["a.camera.yaml"].replace(
    "wide: { focal: 24 mm,",
    "wide: { focal: 24 mm, squeeze: 1.3, distortion: { k: [-0.08, 0.02, 0], p: [0.0004, -0.0003] },",
  );
  const analyses = analyseFixture(text, {
    ...KIT,
    "a.camera.yaml": camera,
    "table.set.yaml": set,
    [`${each.rig}.rig.yaml`]: rigText(each),
  });
  const { trajectory } = analyses.get("m.move.yaml")!;
  assert.ok(trajectory);
  return trajectory;
}

/** Standard normal numbers by Box and Muller. */
function normals(seed: number): () => number {
  const random = seededRandom(seed);
  return () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** Projects target 0 from the pose that errors of the axes lead to, by forward kinematics alone [captured px]. */
function projector(trajectory: Trajectory, t: number): (errors: Float64Array) => [number, number] {
  const { move } = trajectory;
  const chain = compileRig(move.rig);
  const base = baseFrame(move.base);
  const pose = createPoseBuffer(chain);
  const q = new Float64Array(chain.count);
  const pupil = new Float64Array(3);
  const seen = new Float64Array(2);
  const instant = trajectory.createInstant();
  trajectory.poseAt(t, instant);
  const [target] = move.targets;
  const table = move.turntables[target.on!];
  return (errors) => {
    const off = (axis: number): number => errors[axis];
    move.rig.joints.forEach((joint, index) => {
      const axis = move.axes.findIndex((each) => each.joint === index);
      if (axis < 0) return;
      const lead = joint.follows;
      q[index] = lead ? lead.ratio * q[lead.leader] + lead.offset + off(axis) : instant.value[axis] + off(axis);
    });
    forward(chain, base, q, pose);
    pupilPosition(pose, instant.pupil, pupil);
    const turns = move.axes.findIndex((each) => each.turntable === target.on);
    const angle = instant.value[turns] + off(turns);
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const [x, y, z] = target.at;
    const v = [table.at[0] + c * x - s * y, table.at[1] + s * x + c * y, table.at[2] + z].map((p, i) => p - pupil[i]);
    const r = pose.mountRotation;
    const [a, b, d] = [0, 1, 2].map((i) => r[i] * v[0] + r[3 + i] * v[1] + r[6 + i] * v[2]);
    assert.ok(project(move.optics, instant.focal, a, b, d, seen));
    const [w, h] = move.optics.resolution;
    return [seen[0] * w, seen[1] * h];
  };
}

interface Drawn {
  readonly sigma: number;
  readonly p95: number;
}

/** Largest standard deviation about the mean, and the radius about the origin that holds 95 % of points. */
function drawn(points: readonly (readonly [number, number])[]): Drawn {
  const mean = [0, 1].map((i) => points.reduce((sum, p) => sum + p[i], 0) / points.length);
  const part = (i: number, j: number): number =>
    points.reduce((sum, p) => sum + (p[i] - mean[i]) * (p[j] - mean[j]), 0) / (points.length - 1);
  const [xx, xy, yy] = [part(0, 0), part(0, 1), part(1, 1)];
  const radii = Float64Array.from(points, ([x, y]) => Math.hypot(x, y)).sort();
  return {
    sigma: Math.sqrt((xx + yy) / 2 + Math.hypot((xx - yy) / 2, xy)),
    p95: radii[Math.ceil(0.95 * radii.length) - 1],
  };
}

const within = (actual: number, expected: number, share: number): void =>
  assert.ok(Math.abs(actual / expected - 1) <= share, `${actual} is not within ${100 * share} % of ${expected}`);

for (const each of CASES) {
  describe(`passes drawn at random, ${each.name}`, () => {
    const trajectory = trajectoryOf(each);
    const axes = repeatAxes(trajectory.move);
    const instant = trajectory.createInstant();
    const takes = axes.map(({ axis }) =>
      travelAlong(
        Float64Array.from({ length: 601 }, (_, i) => {
          trajectory.poseAt((i / 600) * trajectory.duration, instant);
          return instant.value[axis];
        }),
      ),
    );
    const ways = takes.map((take, k) => take + travelBack(trajectory, axes[k].axis, take));
    const sensitivity = createSensitivity(
      trajectory.move,
      axes.map(({ axis }) => axis),
    );
    const columns = new Float64Array(2 * axes.length);

    it("has every axis that states how it repeats, and the way there and back", () => {
      assert.equal(axes.length, Object.keys(each.repeat).length + 1);
      trajectory.poseAt(0, instant);
      const start = Float64Array.from(instant.value);
      trajectory.poseAt(trajectory.duration, instant);
      axes.forEach(({ axis }, k) => {
        if (trajectory.sources[axis] === "keyed")
          within(ways[k], 2 * Math.abs(instant.value[axis] - start[axis]) + 1e-12, 1e-6);
      });
    });

    it("has the derivative of the picture by every axis, as difference quotients say it", () => {
      for (const t of [0, 1.7, 6]) {
        trajectory.poseAt(t, instant);
        assert.ok(sensitivity(instant, 0, columns));
        const picture = projector(trajectory, t);
        axes.forEach(({ axis }, k) => {
          const at = (step: number): [number, number] => {
            const errors = new Float64Array(trajectory.move.axes.length);
            errors[axis] = step;
            return picture(errors);
          };
          const [more, less] = [at(1e-5), at(-1e-5)];
          for (const i of [0, 1]) {
            const quotient = (more[i] - less[i]) / 2e-5;
            assert.ok(
              Math.abs(columns[2 * k + i] - quotient) < 1e-3 + 1e-6 * Math.abs(quotient),
              `axis ${axis} at ${t} s`,
            );
          }
        });
      }
    });

    for (const [t, n] of [
      [0.9, 2],
      [3, 7],
      [5.6, 25],
    ]) {
      it(`agrees within 3 % in 1σ and 95 % at ${t} s: pass ${n} against pass 1, and against what is drawn`, () => {
        trajectory.poseAt(t, instant);
        assert.ok(sensitivity(instant, 0, columns));
        const normal = normals(1000 * n + each.name.length);
        const picture = projector(trajectory, t);
        const plan = picture(new Float64Array(trajectory.move.axes.length));
        const sides = axes.map(({ axis }) => approachOf(trajectory, axis)(t));
        // Errors of one pass: its own draw, the play on the side it comes from, and what all passes before have slipped.
        const errorsOf = (slipped: readonly number[]): Float64Array => {
          const errors = new Float64Array(trajectory.move.axes.length);
          axes.forEach(({ axis, sigma, backlash }, k) => {
            errors[axis] = sigma * normal() + (backlash / 2) * sides[k] + slipped[k];
          });
          return errors;
        };
        const between: [number, number][] = [];
        const off: [number, number][] = [];
        for (let run = 0; run < PASSES; run++) {
          const first = picture(errorsOf(axes.map(() => 0)));
          const slipped = axes.map(({ slip }, k) => {
            let sum = 0;
            for (let pass = 1; 0 < slip && pass < n; pass++) sum += slip * ways[k] * normal();
            return sum;
          });
          const last = picture(errorsOf(slipped));
          between.push([last[0] - first[0], last[1] - first[1]]);
          off.push([last[0] - plan[0], last[1] - plan[1]]);
        }
        const told = spreadOf(columns, againstFirst(axes, ways, n));
        const seen = drawn(between);
        within(seen.sigma, told.major, 0.03);
        within(seen.p95, radiusHolding(told, 0.95), 0.03);
        const mean: [number, number] = [0, 0];
        axes.forEach(({ backlash }, k) => {
          for (const i of [0, 1]) mean[i] += columns[2 * k + i] * (backlash / 2) * sides[k];
        });
        const toldOff = spreadOf(columns, againstPlan(axes, ways, n), mean);
        const seenOff = drawn(off);
        within(seenOff.sigma, toldOff.major, 0.03);
        within(seenOff.p95, radiusHolding(toldOff, 0.95), 0.03);
      });
    }
  });
}
