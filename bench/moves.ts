import type { FindingCode } from "../core/base/finding-code.ts";
import { runToEnd } from "../core/base/task.ts";
import { analyse, analyseText, createMemo } from "../core/checks/analyse.ts";
import { checkContext } from "../core/checks/check-context.ts";
import { CHECKS } from "../core/checks/registry.ts";
import { runChecks } from "../core/checks/run-checks.ts";
import { createSeen } from "../core/checks/seen.ts";
import { resolveMove } from "../core/model/resolve-move.ts";
import { planTrajectory } from "../core/motion/plan.ts";
import { sampleTake } from "../core/motion/sample.ts";
import { moveText } from "./documents.ts";
import { cpuSeconds, percentile, roundsPerSecond, times, type Figure } from "./measure.ts";
import { MOVE_FILE, sourcesWith } from "./move-sources.ts";
import { OBSTACLES, settingMove, settingWith, type Setting } from "./setting.ts";

/**
 * Instants a second of a move of nine axes with all that a move has (motors, masses, passes), and the checks of the whole move
 * run beside them: where nothing stands about that could be run into, then with bodies among obstacles and people.
 */
export function benchSamples(setting: Setting): Figure {
  const { move } = resolveMove(MOVE_FILE, settingWith(setting, { [MOVE_FILE]: settingMove(60) }));
  if (!move) throw new Error("the benchmark's move cannot be resolved");
  const trajectory = runToEnd(planTrajectory(move));
  const count = 20_000;
  const instants = Float64Array.from({ length: count }, (_, i) => (trajectory.duration * i) / (count - 1));
  let sampled = 0;
  let codes: readonly FindingCode[] = [];
  const rate = roundsPerSecond(() => {
    sampled = runToEnd(sampleTake(trajectory, instants)).count;
    codes = runToEnd(runChecks(trajectory)).map(({ code }) => code);
    return count;
  }, 1500);
  const used = cpuSeconds();
  runToEnd(sampleTake(trajectory, instants));
  const sampling = cpuSeconds() - used;
  const among = setting === "full" ? `${OBSTACLES} obstacles` : "without clearance";
  return {
    name: `samples with all checks, ${trajectory.axes.length} axes, ${among}`,
    value: rate.median,
    unit: "samples/s",
    target: setting === "full" ? "100,000" : "500,000",
    facts: {
      samples: sampled,
      ...countsOf(codes),
      worst: Math.round(rate.worst),
      "sampling alone, us a sample": Number(((1e6 * sampling) / count).toFixed(2)),
    },
  };
}

/** Milliseconds of processor time that each check takes of a move that nothing is known of, those that take some; last all together. */
export function benchChecks(setting: Setting): Figure {
  const { move } = resolveMove(MOVE_FILE, settingWith(setting, { [MOVE_FILE]: settingMove(60) }));
  if (!move) throw new Error("the benchmark's move cannot be resolved");
  const trajectory = runToEnd(planTrajectory(move));
  const spent = new Map<string, number[]>();
  const time = (name: string, work: () => void): void => {
    const begin = cpuSeconds();
    work();
    spent.set(name, [...(spent.get(name) ?? []), 1000 * (cpuSeconds() - begin)]);
  };
  for (let round = 0; round < 9; round++) {
    const context = checkContext(trajectory, createSeen());
    time("all", () => {
      time("the scan they share", () => void runToEnd(context.scan("poses")));
      for (const check of CHECKS) time(check.code, () => void runToEnd(check.run(context)));
    });
  }
  const medians = [...spent].map(([name, all]) => [name, Number(percentile(all, 0.5).toFixed(1))] as const);
  const told = medians.filter(([name, ms]) => name !== "all" && 0.3 <= ms);
  return {
    name: `all checks of 60 keys, ${setting === "full" ? `${OBSTACLES} obstacles` : "without clearance"}`,
    value: percentile(spent.get("all") ?? [], 0.5),
    unit: "ms",
    facts: { intervals: trajectory.intervals.length, ...Object.fromEntries(told) },
  };
}

/** How often each code was found. */
function countsOf(codes: readonly FindingCode[]): Record<string, number> {
  const counts: Record<string, number> = { findings: codes.length };
  for (const code of codes) counts[code] = (counts[code] ?? 0) + 1;
  return counts;
}

/** Moves a second that the command line analyses from cold, one core. */
export function benchWorkspace(): Figure {
  const count = 60;
  const names = Array.from({ length: count }, (_, idx) => `/bench/${idx}.move.yaml`);
  const sources = sourcesWith(Object.fromEntries(names.map((name, idx) => [name, moveText(8, idx)])));
  const memo = createMemo();
  let solved = 0;
  const [spent] = times([
    () => {
      for (const name of names) if (runToEnd(analyse(name, sources, memo)).trajectory) solved += 1;
    },
  ]);
  const unread = createMemo();
  const [reading] = times([
    () => {
      for (const name of names) analyseText(name, sources, unread);
    },
  ]);
  return {
    name: "workspace of moves with 8 keys",
    value: (count * 1000) / spent,
    unit: "moves/s",
    target: "100",
    facts: { solved: `${solved}/${count}`, "reading, ms a move": Number((reading / count).toFixed(2)) },
  };
}
