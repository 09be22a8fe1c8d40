import { sameData } from "../base/same-data.ts";
import type { ReachResult } from "../rig/reach.ts";
import type { CurveEnds, Knot, Stop } from "./keyed-curve.ts";
import type { Clock } from "./clock.ts";
import type { Interval } from "./interval.ts";
import type { KeptWindows, WindowMap } from "./kept-windows.ts";
import type { Piecewise } from "./piecewise.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { sameStart, type RunStart, type SolvedRun } from "./solve-run.ts";

/** A channel's curve and what it was laid from. */
export interface LaidCurve {
  readonly knots: readonly Knot[];
  readonly ends: CurveEnds;
  readonly curve: Piecewise;
}

/** How much of a plan was done anew, and how much was taken from the plan before. */
export interface PlanWork {
  /** Intervals of the time line whose aim was solved, and those whose solution was there. */
  solved: number;
  reused: number;
  /** Camera keys likewise. */
  keysSolved: number;
  keysReused: number;
}

/**
 * What a plan leaves to the next plan of the same move after an edit: each part with all that it was made from, so that it
 * serves where that is equal to the last bit, and nowhere else. It holds what one plan used, and no more.
 */
export interface PlanRecord {
  readonly move: ResolvedMove;
  readonly timing?: { readonly stops: readonly Stop[]; readonly clock?: Clock };
  readonly curves: LaidCurve[];
  /** Windows of knots that were settled for curves which were laid anew. */
  readonly windows: WindowMap;
  /** Camera keys by what they ask for. */
  readonly reached: Map<string, ReachResult>;
  /** Solutions of intervals, and all intervals, by where they begin [s]. An interval is solved more than once to choose a path's axes. */
  readonly runs: Map<number, SolvedRun[]>;
  readonly intervals: Map<number, Interval>;
  readonly work: PlanWork;
}

/** The record of the plan that is being made, and that of the plan before it as far as it may serve. */
export interface Recall {
  readonly record: PlanRecord;
  readonly known?: PlanRecord;
}

export function beginRecord(
  move: ResolvedMove,
  timing: { readonly stops: readonly Stop[]; readonly clock?: Clock },
  earlier: PlanRecord | undefined,
): Recall {
  const record: PlanRecord = {
    move,
    timing: { stops: timing.stops, clock: timing.clock },
    curves: [],
    windows: new Map(),
    reached: new Map(),
    runs: new Map(),
    intervals: new Map(),
    work: { solved: 0, reused: 0, keysSolved: 0, keysReused: 0 },
  };
  return earlier && sameSetting(earlier.move, move) ? { record, known: earlier } : { record };
}

/** The curve of the plan before that was laid from the same knots. */
export function recallCurve(recall: Recall, knots: readonly Knot[], ends: CurveEnds): Piecewise | undefined {
  const { record, known } = recall;
  if (!known || !sameData(known.timing, record.timing)) return undefined;
  // Channels come in the same order as a rule.
  const first = record.curves.length;
  for (let i = 0; i < known.curves.length; i++) {
    const one = known.curves[(first + i) % known.curves.length];
    if (one.knots.length === knots.length && sameData(one.ends, ends) && sameData(one.knots, knots)) return one.curve;
  }
  return undefined;
}

/** Windows of knots that the plan before settled, and those that this one leaves to the next. */
export function windowsOf({ record, known }: Recall): KeptWindows {
  return known ? { known: known.windows, kept: record.windows } : { kept: record.windows };
}

/** What the plan before, or this one, found for the same camera key by its `name`; it is kept for the next plan. */
export function recallReach({ record, known }: Recall, name: string): ReachResult | undefined {
  const found = record.reached.get(name) ?? known?.reached.get(name);
  if (found) {
    record.work.keysReused += 1;
    record.reached.set(name, found);
  } else record.work.keysSolved += 1;
  return found;
}

/** The solution that the plan before, or this one, found from the same start; it is kept for the next plan. */
export function recallRun({ record, known }: Recall, start: RunStart, at: number, most: number): SolvedRun | undefined {
  const serves = (run: SolvedRun): boolean => run.whole && run.state.length <= most && sameStart(run.start, start);
  const found = record.runs.get(at)?.find(serves) ?? known?.runs.get(at)?.find(serves);
  if (found) {
    record.work.reused += 1;
    keepRun(record, at, found);
  } else record.work.solved += 1;
  return found;
}

export function keepRun({ runs }: PlanRecord, at: number, run: SolvedRun): void {
  const list = runs.get(at);
  if (!list) runs.set(at, [run]);
  else if (!list.includes(run)) list.push(run);
}

/** What a move says besides its keys that its motion does not hang on: it may differ between two plans. */
const APART = new Set([
  "keys",
  "title",
  "rate",
  "startFrame",
  "speed",
  "near",
  "tolerance",
  "passes",
  "marks",
  "expectations",
  "uses",
]);

/** True when two moves differ in their keys at most, and in what motion does not hang on. Where things are written is not asked. */
function sameSetting(a: ResolvedMove, b: ResolvedMove): boolean {
  const isPlace = (name: string): boolean => /^origins?$|Origins?$/.test(name);
  const setting = (move: ResolvedMove): object =>
    Object.fromEntries(Object.entries(move).filter(([name]) => !APART.has(name)));
  return sameData(setting(a), setting(b), isPlace);
}
