import { seededRandom } from "../core/base/random.ts";
import type { Vec3 } from "../core/base/vec3.ts";
import { unproject } from "../core/lens/project.ts";
import { pupilAt } from "../core/lens/pupil.ts";
import type { ResolvedOptics } from "../core/lens/resolved-optics.ts";
import { resolveOptics } from "../core/model/resolve-optics.ts";
import { resolveRig } from "../core/model/resolve-rig.ts";
import { aimPlan } from "../core/rig/aim-axes.ts";
import { solveAim } from "../core/rig/aim.ts";
import { compileRig, ownFrame, type Chain } from "../core/rig/chain.ts";
import { memorySources } from "../test/fixtures/memory-sources.ts";
import { CAMERA, CAMERA_FILE, RIG, RIG_FILE } from "./documents.ts";
import { roundsPerSecond, type Figure } from "./measure.ts";
import { randomPose } from "./reach-cases.ts";

const SEED = 20260701;

export interface BenchRig {
  readonly chain: Chain;
  readonly optics: ResolvedOptics;
}

export function benchRig(): BenchRig {
  const sources = memorySources(
    new Map([
      [RIG_FILE, RIG],
      [CAMERA_FILE, CAMERA],
    ]),
  );
  const { rig, problems } = resolveRig(RIG_FILE, sources);
  const optics = resolveOptics(CAMERA_FILE, sources).optics.get("prime-35");
  if (!rig || !optics) throw new Error(`the benchmark's rig cannot be read: ${problems[0]?.message}`);
  return { chain: compileRig(rig), optics };
}

/** Aims a second: pan and tilt from a random pose of the rig to a target near a framing, from cold. */
export function benchAim({ chain, optics }: BenchRig): Figure {
  const random = seededRandom(SEED + 1);
  const base = ownFrame();
  const count = 512;
  const focal = optics.focal.low;
  const plan = aimPlan(chain.rig, 0);
  const cases = Array.from({ length: count }, () => {
    const q = randomPose(chain, random);
    if (plan.rollAxis !== undefined) q[plan.rollAxis] = 0;
    const target: Vec3 = [6 + 4 * random(), 4 * random() - 2, 3 * random()];
    const sight = new Float64Array(3);
    unproject(optics, focal, 0.3 + 0.4 * random(), 0.3 + 0.4 * random(), sight);
    return { q, target, sight: [sight[0], sight[1], sight[2]] as Vec3 };
  });
  const view = {
    pupil: pupilAt(optics, focal, NaN),
    widths: focal / (optics.squeeze * optics.sensor[0]),
    rule: plan.rule,
  };
  const near = plan.axes.map(() => 0);
  let solved = 0;
  const { median, worst } = roundsPerSecond(() => {
    solved = 0;
    for (const { q, target, sight } of cases) {
      const [best] = solveAim(chain, base, q, plan.axes, { ...view, target, sight }, near);
      if (best.status === "converged") solved += 1;
    }
    return count;
  });
  return {
    name: "aim, cold, both branches",
    value: median,
    unit: "aims/s",
    facts: { worst: Math.round(worst), solved: `${solved}/${count}` },
  };
}
