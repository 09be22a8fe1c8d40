import { analyse, analyseText, createMemo } from "../core/checks/analyse.ts";
import { runToEnd } from "../core/base/task.ts";
import { resolveMove } from "../core/model/resolve-move.ts";
import { planTrajectory } from "../core/motion/plan.ts";
import { runChecks } from "../core/checks/run-checks.ts";
import { sampleTake } from "../core/motion/sample.ts";
import { BODIED_RIG, CROWDED_SET, moveText, RIG_FILE, SET_FILE } from "./documents.ts";
import { percentile, times, type Figure } from "./measure.ts";
import { MOVE_FILE, sourcesWith } from "./move-sources.ts";

/** Instants a second of a move with all its derivatives, and the checks of the whole move run beside them. */
export const benchSamples = (): Figure => sampled({}, "samples with all checks", "500,000");

/** The same among 20 obstacles, with a rig of 14 bodies. */
export const benchCrowded = (): Figure =>
  sampled({ [RIG_FILE]: BODIED_RIG, [SET_FILE]: CROWDED_SET }, "samples with all checks, 20 obstacles", "100,000");

function sampled(kit: Readonly<Record<string, string>>, name: string, target: string): Figure {
  const { move } = resolveMove(MOVE_FILE, sourcesWith({ [MOVE_FILE]: moveText(60), ...kit }));
  if (!move) throw new Error("the benchmark's move cannot be resolved");
  const trajectory = runToEnd(planTrajectory(move));
  const count = 20_000;
  const instants = Float64Array.from({ length: count }, (_, i) => (trajectory.duration * i) / (count - 1));
  const run = (): { samples: number; findings: number } => {
    const take = runToEnd(sampleTake(trajectory, instants));
    return { samples: take.count, findings: runToEnd(runChecks(trajectory)).length };
  };
  const first = run();
  const spent = times(Array.from({ length: 5 }, () => () => void run()));
  return {
    name: `${name}, ${trajectory.axes.length} axes`,
    value: (count * 1000) / percentile(spent, 0.5),
    unit: "samples/s",
    target,
    facts: { samples: first.samples, findings: first.findings, worst: Math.round((count * 1000) / Math.max(...spent)) },
  };
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
