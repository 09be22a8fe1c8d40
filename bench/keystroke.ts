import { runToEnd } from "../core/base/task.ts";
import { analyse, analyseText, createMemo, type AnalysisMemo } from "../core/checks/analyse.ts";
import { createSeen } from "../core/checks/seen.ts";
import { runChecks } from "../core/checks/run-checks.ts";
import { planTrajectory } from "../core/motion/plan.ts";
import type { ResolvedMove } from "../core/motion/resolved-move.ts";
import type { Sources } from "../core/model/sources.ts";
import { moveText } from "./documents.ts";
import { cpuSeconds, percentile, type Figure } from "./measure.ts";
import { MOVE_FILE, sourcesWith } from "./move-sources.ts";
import { settingMove, settingWith } from "./setting.ts";

/** A rig, camera and set that state no more than a move needs, or all that they can, among obstacles and people. */
type Kit = "bare" | "full";

/** A digit that comes and goes behind one value in the middle of a move, as it is typed: all that follows moves by one. */
function typing(kit: Kit, keys: number): (round: number) => Sources {
  const text = kit === "full" ? settingMove(keys) : moveText(keys);
  const typed = (move: string): Sources =>
    kit === "full" ? settingWith(kit, { [MOVE_FILE]: move }) : sourcesWith({ [MOVE_FILE]: move });
  const at = text.indexOf("\n", text.indexOf("lift: ", Math.floor(text.length / 2)));
  return (round) => typed(text.slice(0, at) + (round % 2 === 0 ? "" : String(1 + (round % 9))) + text.slice(at));
}

/** Milliseconds from a keystroke in the middle of a move to all its findings, the editor's memo kept; where all is stated then by step. */
export function benchKeystroke(kit: Kit, keys: number, target: string): Figure[] {
  const sourcesAt = typing(kit, keys);
  const rounds = keys >= 1000 ? 20 : 40;
  const memo = createMemo();
  let findings = 0;
  const type = (round: number): void => {
    const analysis = runToEnd(analyse(MOVE_FILE, sourcesAt(round), memo));
    if (!analysis.trajectory) throw new Error("the benchmark's move was not solved");
    findings = analysis.textFindings.length + analysis.motionFindings.length;
  };
  for (let warm = 0; warm < 4; warm++) type(warm);
  const clock = createStopwatch();
  for (let round = 0; round < rounds; round++) clock.time(() => type(round + 5));
  const whole: Figure = {
    name: `keystroke to findings, ${keys} keys${kit === "full" ? ", all stated" : ""}, p95`,
    unit: "ms",
    target,
    ...clock.figures({ rounds, findings }),
  };
  return kit === "full" ? [whole, ...benchSteps(kit, keys, rounds)] : [whole];
}

/** The same work, one step after the other, each with what it did anew. */
function benchSteps(kit: Kit, keys: number, rounds: number): Figure[] {
  const sourcesAt = typing(kit, keys);
  const memo = createMemo();
  const clocks = { reading: createStopwatch(), planning: createStopwatch(), checking: createStopwatch() };
  let facts: Record<keyof typeof clocks, Figure["facts"]> = { reading: {}, planning: {}, checking: {} };
  let before: ResolvedMove | undefined;
  const type = (round: number): void => {
    const sources = sourcesAt(round);
    const move = clocks.reading.time(() => {
      const read = analyseText(MOVE_FILE, sources, memo).move;
      return read && !memo.solved(MOVE_FILE, read) ? read : undefined;
    });
    if (!move) throw new Error("the benchmark's edit changed nothing");
    const last = memo.last(MOVE_FILE);
    const trajectory = clocks.planning.time(() => runToEnd(planTrajectory(move, last?.trajectory?.record)));
    const seen = last?.seen ?? createSeen();
    const known = new Set(last?.trajectory?.intervals);
    const fresh = trajectory.intervals.filter((interval) => !known.has(interval)).length;
    const findings = clocks.checking.time(() => runToEnd(runChecks(trajectory, undefined, seen)));
    memo.keep(MOVE_FILE, { move, trajectory, findings, seen });
    facts = {
      reading: readingFacts(memo, move, before),
      planning: { ...trajectory.record.work },
      checking: { seen: fresh, intervals: trajectory.intervals.length, findings: findings.length },
    };
    before = move;
  };
  for (let round = 0; round < 4; round++) type(round);
  for (const clock of Object.values(clocks)) clock.reset();
  for (let round = 4; round < rounds + 4; round++) type(round);
  return (["reading", "planning", "checking"] as const).map((step) => ({
    name: `  of these ${step}, ${keys} keys, p95`,
    unit: "ms",
    ...clocks[step].figures(facts[step]),
  }));
}

/** Milliseconds from a document that nothing is known of to all its findings: what opening it takes once the program runs. */
export function benchOpening(keys: number): Figure {
  const clock = createStopwatch();
  const rounds = 6;
  let facts: Figure["facts"] = {};
  const open = (): void => {
    const analysis = runToEnd(analyse(MOVE_FILE, sourcesWith({ [MOVE_FILE]: moveText(keys) }), createMemo()));
    const work = analysis.trajectory?.record.work;
    facts = { rounds, solved: work?.solved ?? 0, findings: analysis.motionFindings.length };
  };
  open();
  for (let round = 0; round < rounds; round++) clock.time(open);
  const figures = clock.figures(facts);
  return { name: `opening a move of ${keys} keys, p95`, unit: "ms", ...figures };
}

interface Stopwatch {
  time<T>(work: () => T): T;
  reset(): void;
  /** The 95th percentile [ms], with the median and the mean of the processor's time, which other programs disturb less. */
  figures(facts: Figure["facts"]): Pick<Figure, "value" | "facts">;
}

function createStopwatch(): Stopwatch {
  let spent: number[] = [];
  let used = 0;
  return {
    time(work) {
      const [begun, cpu] = [performance.now(), cpuSeconds()];
      const result = work();
      used += cpuSeconds() - cpu;
      spent.push(performance.now() - begun);
      return result;
    },
    reset() {
      spent = [];
      used = 0;
    },
    figures: (facts) => ({
      value: percentile(spent, 0.95),
      facts: {
        p50: Number(percentile(spent, 0.5).toFixed(1)),
        "mean of processor time": Number(((1000 * used) / spent.length).toFixed(1)),
        ...facts,
      },
    }),
  };
}

/** Items and fields that were parsed, keys that were read and that were resolved, as far as they were not taken over. */
function readingFacts(
  { documents }: AnalysisMemo,
  move: ResolvedMove,
  before: ResolvedMove | undefined,
): Figure["facts"] {
  const document = documents.get(MOVE_FILE);
  const work = document && "work" in document ? document.work : { parsed: 0, read: 0 };
  return { ...work, resolved: move.keys.filter((key, index) => key !== before?.keys[index]).length };
}
