import { seededRandom, type Random } from "../core/base/random.ts";
import { invertQuat, multiplyQuats, quatFromMatrix, type Quat } from "../core/base/quat.ts";
import type { Vec3 } from "../core/base/vec3.ts";
import { pupilAt, unproject } from "../core/lens/project.ts";
import type { ResolvedOptics } from "../core/lens/resolved-optics.ts";
import { resolveOptics } from "../core/model/resolve-optics.ts";
import { resolveRig } from "../core/model/resolve-rig.ts";
import { aimPlan } from "../core/rig/aim-axes.ts";
import { solveAim } from "../core/rig/aim.ts";
import {
  compileRig,
  createPoseBuffer,
  fillFollowers,
  forward,
  ownFrame,
  type Chain,
  type PoseBuffer,
} from "../core/rig/chain.ts";
import { solveReach } from "../core/rig/reach.ts";
import { memorySources } from "../test/fixtures/memory-sources.ts";
import { CAMERA, CAMERA_FILE, RIG, RIG_FILE } from "./documents.ts";
import { percentile, roundsPerSecond, type Figure } from "./measure.ts";

const SEED = 20260701;
const POSES = 4096;

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

/** Joint values inside the ranges, uniformly drawn. */
export function randomPose({ rig, count }: Chain, random: Random): Float64Array {
  const q = new Float64Array(count);
  rig.joints.forEach(({ range, role }, idx) => {
    if (role === "driven" && range) q[idx] = range.low + (range.high - range.low) * random();
  });
  return q;
}

/** Poses a second of the seven-axis rig. */
export function benchForward({ chain }: BenchRig): Figure {
  const random = seededRandom(SEED);
  const poses = Array.from({ length: POSES }, () => randomPose(chain, random));
  const buffer = createPoseBuffer(chain);
  const base = ownFrame();
  let sum = 0;
  const { median, worst } = roundsPerSecond(() => {
    for (const q of poses) {
      fillFollowers(chain, q);
      forward(chain, base, q, buffer);
      sum += buffer.mountPosition[0];
    }
    return POSES;
  });
  return {
    name: "forward kinematics, 7 axes",
    value: median,
    unit: "poses/s",
    target: "3,000,000",
    facts: { worst: Math.round(worst), finite: Number.isFinite(sum) ? "yes" : "no" },
  };
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
  const view = { pupil: pupilAt(optics, focal), widths: focal / (optics.squeeze * optics.sensor[0]), rule: plan.rule };
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

/** Position [m] and angle [rad] that a solution may be off, judged by forward kinematics of the axes it returns. */
const REACHED = 1e-6;

/** Poses reached a second, cold from random values or warm from a neighbouring instant; whole poses, all axes inside their ranges. */
export function benchReach({ chain }: BenchRig, start: "cold" | "warm"): Figure {
  const random = seededRandom(SEED + 2);
  const base = ownFrame();
  const count = start === "cold" ? 400 : 1000;
  const axes = Array.from(chain.driven);
  const buffer = createPoseBuffer(chain);
  const cases = Array.from({ length: count }, () => {
    const q = randomPose(chain, random);
    forward(chain, base, q, buffer);
    const [x, y, z] = buffer.mountPosition;
    const turn = quatFromMatrix(buffer.mountRotation);
    return {
      position: [x, y, z] as Vec3,
      turn,
      preferred: start === "cold" ? randomPose(chain, random) : nudged(chain, q, random),
    };
  });
  const spent: number[] = [];
  let [success, claimed] = [0, 0];
  const begin = performance.now();
  for (const { position, turn, preferred } of cases) {
    const from = performance.now();
    const goal = { position, pupil: 0, orientation: { kind: "turn", turn } } as const;
    const { q, status } = solveReach(chain, base, { goal, axes, preferred, search: "first" });
    spent.push((performance.now() - from) * 1000);
    if (status === "converged") claimed += 1;
    forward(chain, base, q, buffer);
    if (isInside(chain, q) && poseError(buffer, position, turn) < REACHED) success += 1;
  }
  const seconds = (performance.now() - begin) / 1000;
  return {
    name: `reach, ${start}, 7 axes, whole pose`,
    value: success / seconds,
    unit: "solved/s",
    target: start === "cold" ? "36,000 and 99.9 %" : "100,000 and 99.99 %",
    facts: {
      solved: `${success}/${count}`,
      claimed: `${claimed}/${count}`,
      medianMicroseconds: Math.round(percentile(spent, 0.5)),
      p95Microseconds: Math.round(percentile(spent, 0.95)),
    },
  };
}

/** A pose 0.02 m or rad away (normally distributed), inside the ranges. */
function nudged({ rig }: Chain, q: Float64Array, random: Random): Float64Array {
  return Float64Array.from(q, (value, idx) => {
    const { range } = rig.joints[idx];
    const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    return range ? Math.min(range.high, Math.max(range.low, value + 0.02 * normal)) : value;
  });
}

const isInside = ({ rig }: Chain, q: Float64Array): boolean =>
  rig.joints.every(({ range }, idx) => !range || (range.low - 1e-9 <= q[idx] && q[idx] <= range.high + 1e-9));

/** The greater of the distance [m] and the angle [rad] between a pose and what was asked for. */
function poseError({ mountPosition, mountRotation }: PoseBuffer, position: Vec3, turn: Quat): number {
  const distance = Math.hypot(...position.map((part, i) => part - mountPosition[i]));
  const [x, y, z] = multiplyQuats(invertQuat(turn), quatFromMatrix(mountRotation));
  return Math.max(distance, 2 * Math.asin(Math.min(1, Math.hypot(x, y, z))));
}
