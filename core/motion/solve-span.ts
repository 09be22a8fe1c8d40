import type { Task } from "../base/task.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import { keepRun, recallRun, type Recall } from "./plan-record.ts";
import { smoothUnsolved } from "./smooth-unsolved.ts";
import type { SolveRoom } from "./solve-instant.ts";
import { runStart, solveRun, type SolvedRun } from "./solve-run.ts";
import { ROOM } from "./series.ts";
import { WIDTH, type SolvedPath } from "./solved-path.ts";
import { SAME_TIME } from "./same-time.ts";
import { intervalAt } from "./tracks.ts";

/** Pieces of one span are not made more than this many; what is left then is too steep to follow. */
const MOST_PIECES = 20_000;

/**
 * Follows the solution of a span from given values on, interval by interval. The branch is kept: where the pole is passed
 * exactly, pan jumps as it would for the smallest miss. An interval that the plan before solved from the same start is
 * taken from there.
 *
 * @param start  Values of the unknowns near the solution at the start of the span.
 * @param recall Absent: nothing is kept or taken from the plan before.
 */
export function* solveSpan(
  model: MoveModel,
  room: SolveRoom,
  span: AimSpan,
  start: readonly number[],
  recall?: Recall,
): Task<SolvedPath> {
  const { knots } = model.tracks;
  // A knot may lie a hair beside the span's own end: what is beyond it is no part of the span.
  const first = intervalAt(model.tracks, span.start + SAME_TIME, "right");
  const last = Math.max(first, intervalAt(model.tracks, span.end - SAME_TIME, "left"));
  const runs: SolvedRun[] = [];
  let values = start;
  let sign = 0;
  let pieces = 0;
  for (let interval = first; interval <= last; interval++) {
    const begin = runStart(model, span, interval, values, sign);
    const most = MOST_PIECES - pieces;
    const before = recall && recallRun(recall, begin, knots[interval], most);
    const run = before ?? (yield* solveRun(model, room, span, interval, begin, most));
    if (recall && !before) keepRun(recall.record, knots[interval], run);
    runs.push(run);
    values = run.values;
    sign = run.sign;
    pieces += run.state.length;
    if (interval % 64 === 63) yield;
  }
  const path = pathOf(runs, span);
  smoothUnsolved(path);
  return path;
}

function pathOf(runs: readonly SolvedRun[], span: AimSpan): SolvedPath {
  const count = runs.reduce((sum, run) => sum + run.state.length, 0);
  const { unknown } = span.problem!;
  const times = new Float64Array(count + 1);
  const state = new Uint8Array(count);
  const ends = unknown.map(() => new Float64Array(2 * ROOM * count));
  const coefficients = unknown.map(() => new Float64Array(WIDTH * count));
  times[0] = span.start;
  let piece = 0;
  for (const run of runs) {
    times.set(run.times.subarray(1), piece + 1);
    state.set(run.state, piece);
    for (let u = 0; u < unknown.length; u++) {
      ends[u].set(run.ends[u], 2 * ROOM * piece);
      coefficients[u].set(run.coefficients[u], WIDTH * piece);
    }
    piece += run.state.length;
  }
  const curves = coefficients.map((numbers) => ({ degree: WIDTH - 1, times, coefficients: numbers }));
  return { times, state, ends, curves };
}
