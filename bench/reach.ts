import { compileRig, createPoseBuffer, forward, ownFrame, type Chain } from "../core/rig/chain.ts";
import { createReachSolver } from "../core/rig/reach-solver.ts";
import { solveReach } from "../core/rig/reach.ts";
import type { ResolvedRig } from "../core/rig/resolved-rig.ts";
import { kitRig, pumaRig, slidingRig } from "./chains.ts";
import { cpuSeconds, percentile, roundsPerSecond, type Figure } from "./measure.ts";
import { randomRig } from "./random-rigs.ts";
import { isSolved, reachCases, type ReachCase, type Start } from "./reach-cases.ts";

export const SEED = 20260701;
/** The chains that are compared with the C++ solvers. */
export const COMPARED: readonly ResolvedRig[] = [pumaRig(), slidingRig()];
export const COUNT: Readonly<Record<Start, number>> = { cold: 10_000, warm: 20_000 };

interface Outcome {
  readonly solved: number;
  readonly claimed: number;
  /** Of one core, all threads of the process counted. */
  readonly seconds: number;
  readonly microseconds: readonly number[];
}

function solveCases(chain: Chain, cases: readonly ReachCase[]): Outcome {
  const base = ownFrame();
  const axes = Array.from(chain.driven);
  const solver = createReachSolver(chain, axes);
  const solve = ({ position, turn, start }: ReachCase): ReturnType<typeof solveReach> => {
    const goal = { position, pupil: 0, orientation: { kind: "turn", turn } } as const;
    return solveReach(chain, base, { goal, axes, preferred: start, search: "first" }, solver);
  };
  // Until it is compiled; the 2,000 first ones again and again.
  for (let round = 0; round < 3; round++) cases.slice(0, 2000).forEach(solve);
  const microseconds: number[] = [];
  const answers: ReturnType<typeof solveReach>[] = [];
  const begin = cpuSeconds();
  for (const one of cases) {
    const from = performance.now();
    answers.push(solve(one));
    microseconds.push((performance.now() - from) * 1000);
  }
  const seconds = cpuSeconds() - begin;
  const solved = answers.filter(({ q }, i) => isSolved(chain, cases[i], q)).length;
  return { solved, claimed: answers.filter(({ status }) => status === "converged").length, seconds, microseconds };
}

/** Poses a second of a compared chain. */
export function benchForwardOf(rig: ResolvedRig): Figure {
  const chain = compileRig(rig);
  const poses = reachCases(chain, "cold", 1024, SEED).map(({ q }) => q);
  const buffer = createPoseBuffer(chain);
  const base = ownFrame();
  let sum = 0;
  const { median, worst } = roundsPerSecond(() => {
    for (const q of poses) {
      forward(chain, base, q, buffer);
      sum += buffer.mountPosition[0];
    }
    return poses.length;
  });
  const facts = { worst: Math.round(worst), finite: Number.isFinite(sum) ? "yes" : "no" };
  const target = rig.joints.length === 7 ? { target: "3,000,000" } : {};
  return { name: `forward kinematics, ${rig.name}`, value: median, unit: "poses/s", ...target, facts };
}

/** Whole poses reached a second, cold from random values or warm from a neighbouring instant, inside all ranges. */
export function benchReach(rig: ResolvedRig, start: Start): Figure {
  const chain = compileRig(rig);
  const cases = reachCases(chain, start, COUNT[start], SEED);
  const { solved, claimed, seconds, microseconds } = solveCases(chain, cases);
  return {
    name: `reach, ${start}, ${rig.name}`,
    value: solved / seconds,
    unit: "solved/s",
    target: start === "cold" ? "36,000 and 99.9 %" : "100,000 and 99.99 %",
    facts: {
      solved: `${solved}/${cases.length}`,
      claimed: `${claimed}/${cases.length}`,
      medianMicroseconds: Number(percentile(microseconds, 0.5).toFixed(1)),
      p95Microseconds: Number(percentile(microseconds, 0.95).toFixed(1)),
    },
  };
}

/** The demo's rigs, cold: outcome counts first, the rate beside them. */
export function benchKit(): Figure[] {
  return ["floor", "overhead", "slider", "track-arm"].map((name) => {
    const rig = kitRig(name);
    return totalOf(`reach, cold, demo's ${name}`, [rig], 2000);
  });
}

export function benchRandomRigs(): Figure {
  return totalOf(
    "reach, cold, 50 random rigs of 2 to 10 axes",
    Array.from({ length: 50 }, (_, i) => randomRig(i + 1)),
    200,
  );
}

function totalOf(name: string, rigs: readonly ResolvedRig[], each: number): Figure {
  const outcomes = rigs.map((rig, i) => {
    const chain = compileRig(rig);
    return solveCases(chain, reachCases(chain, "cold", each, SEED + i));
  });
  const sum = (of: (outcome: Outcome) => number): number => outcomes.reduce((total, one) => total + of(one), 0);
  const failed = outcomes.flatMap(({ solved }, i) => (solved < each ? [`${rigs[i].name} ${solved}/${each}`] : []));
  return {
    name,
    value: sum(({ solved }) => solved) / sum(({ seconds }) => seconds),
    unit: "solved/s",
    target: "99.9 %",
    facts: {
      solved: `${sum(({ solved }) => solved)}/${each * rigs.length}`,
      claimed: `${sum(({ claimed }) => claimed)}/${each * rigs.length}`,
      ...(0 < failed.length && { failed: failed.join("; ") }),
    },
  };
}
