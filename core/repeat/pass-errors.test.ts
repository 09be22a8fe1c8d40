import assert from "node:assert/strict";
import { analyseFixture } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { DEG } from "../../test/support/rigs.ts";
import { runToEnd } from "../base/task.ts";
import { project } from "../lens/project.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { baseFrame, compileRig, createPoseBuffer, forward, pupilPosition } from "../rig/chain.ts";
import { passErrors, passNumbers } from "./pass-errors.ts";
import { radiusHolding } from "./spread.ts";

const REPEAT: Readonly<Record<string, string>> = {
  slide: "{ sigma: 0.05 mm, slip: 0.1 mm/m, backlash: 1 mm }",
  pan: "{ sigma: 0.002 deg }",
  tilt: "{ sigma: 0.002 deg }",
};
const RIG = KIT["slider.rig.yaml"].replace(/(axis: (\w+), .*)\}$/gm, (line, start: string, axis: string) =>
  REPEAT[axis] === undefined ? line : `${start}, repeat: ${REPEAT[axis]} }`,
);

/** The slide goes 0.8 m past the lid, which is 1.81 m before the pupil in the middle, and the same way back. */
function solved(rig: string, aim: string): { trajectory: Trajectory; measured: number | undefined } {
  const text = `
#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
  - { at: 0 s, axes: { slide: -0.4 }, ${aim} }
  - { at: 8 s, axes: { slide: 0.4 } }
passes: [{ name: celadon, times: 4 }, { name: tenmoku, times: 6 }]
tolerance: { match: 0.1 px }
`;
  const analysis = analyseFixture(text, { ...KIT, "slider.rig.yaml": rig }).get("m.move.yaml");
  assert.ok(analysis?.trajectory);
  const measured = analysis.motionFindings.find(({ code }) => code === "match")?.value;
  return { trajectory: analysis.trajectory, measured };
}

/** Captured px that the lid moves for one unit of an axis, by a difference quotient of the rig's own pose. */
function shiftOf({ move, createInstant, at }: Trajectory, t: number, axis: string): number[] {
  const instant = createInstant();
  at(t, instant);
  const chain = compileRig(move.rig);
  const pose = createPoseBuffer(chain);
  const pupil = new Float64Array(3);
  const seen = (off: number): number[] => {
    const q = Float64Array.from(move.rig.joints, ({ name }, joint) => {
      const own = move.axes.findIndex((one) => one.joint === joint);
      return (own < 0 ? 0 : instant.value[own]) + (name === axis ? off : 0);
    });
    forward(chain, baseFrame(move.base), q, pose);
    pupilPosition(pose, instant.pupil, pupil);
    const [x, y, z] = [0, 1, 2].map((k) => instant.targets[k] - pupil[k]);
    const [ahead, left, up] = [0, 1, 2].map((k) => {
      const r = pose.mountRotation;
      return r[k] * x + r[3 + k] * y + r[6 + k] * z;
    });
    const picture = [0, 0];
    project(move.optics, instant.focal, ahead, left, up, picture);
    return picture.map((share, k) => share * move.optics.resolution[k]);
  };
  const [before, after] = [seen(-1e-5), seen(1e-5)];
  return after.map((px, k) => (px - before[k]) / 2e-5);
}

const AIM = "aim: { at: lid, framing: [0.5, 0.5] }";
const TIMES = Float64Array.from({ length: 81 }, (_, i) => i / 10);

describe("pass errors over time", () => {
  it("are what slip and deviation make of the subject in the middle of a slide", () => {
    const { trajectory } = solved(RIG, AIM);
    const errors = runToEnd(passErrors(trajectory, TIMES, [1, 4, 10]));
    assert.ok(errors);
    for (const [row, n] of [4, 10].entries()) {
      const slip = (n - 1) * (0.1e-3 * 1.6) ** 2;
      const sigmas = {
        slide: Math.sqrt(2 * 0.05e-3 ** 2 + slip),
        pan: Math.SQRT2 * 0.002 * DEG,
        tilt: Math.SQRT2 * 0.002 * DEG,
      };
      const moves = Object.entries(sigmas).map(([axis, sigma]) => shiftOf(trajectory, 4, axis).map((px) => px * sigma));
      // The columns lie along and across the picture: variances add up in each direction by themselves.
      const [across, down] = [0, 1].map((k) => Math.hypot(...moves.map((move) => move[k])));
      const spread = { major: Math.max(across, down), minor: Math.min(across, down), angle: 0, along: 0, across: 0 };
      const wanted = radiusHolding(spread, 0.95);
      const found = errors.radius[(row + 1) * TIMES.length + 40];
      assert.ok(Math.abs(found / wanted - 1) < 2e-4, `pass ${n}: ${found} px, by differences ${wanted} px`);
    }
    assert.ok(errors.radius.subarray(0, TIMES.length).every((radius) => radius === 0));
  });

  it("are highest where the check of passes tells the worst instant", () => {
    const { trajectory, measured } = solved(RIG, AIM);
    const errors = runToEnd(passErrors(trajectory, TIMES, [10]));
    assert.ok(errors && measured !== undefined);
    assert.ok(Math.abs(Math.max(...errors.radius) / measured - 1) < 1e-3, `${Math.max(...errors.radius)} ${measured}`);
  });

  it("are no numbers where nothing is aimed at, and not told for a rig that states nothing", () => {
    const { trajectory } = solved(RIG, "aim: none");
    const errors = runToEnd(passErrors(trajectory, TIMES, [4]));
    assert.ok(errors?.radius.every(Number.isNaN));
    const plain = solved(KIT["slider.rig.yaml"], AIM);
    assert.equal(runToEnd(passErrors(plain.trajectory, TIMES, [4])), undefined);
  });

  it("count passes as they are taken", () => {
    const { trajectory } = solved(RIG, AIM);
    assert.deepEqual(passNumbers(trajectory.move), [
      { first: 1, last: 4 },
      { first: 5, last: 10 },
    ]);
  });
});
