import { solveDense } from "../base/linear.ts";
import type { Task } from "../base/task.ts";
import { solveValues, writeJacobianNow } from "./aim-newton.ts";
import { equationCount } from "./aim-problem.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import { ROOM } from "./series.ts";
import { prepareInstant, type SolveRoom } from "./solve-instant.ts";
import { MISSED } from "./tolerances.ts";
import { intervalAt, writeStill, writeTracks } from "./tracks.ts";

/** Axes that a place takes. */
const PLACES = 3;
/** Instants of a leg at which a choice of axes is looked at. */
const LOOKS = 24;

/** Every choice of three of the axes, in their order; all of them where there are no more. */
export function placings(axes: readonly number[]): number[][] {
  if (axes.length <= PLACES) return [[...axes]];
  const out: number[][] = [];
  for (let a = 0; a < axes.length; a++) {
    for (let b = a + 1; b < axes.length; b++) {
      for (let c = b + 1; c < axes.length; c++) out.push([axes[a], axes[b], axes[c]]);
    }
  }
  return out;
}

/**
 * How well the unknowns of a leg's spans hold their equations, the other axes on their curves: the least over the leg of
 * the smallest pivot as a share of the largest entry. 0 where it is singular, less than 0 by the share of the leg that has
 * no solution.
 *
 * @param start Values of all axes at the start of the leg.
 */
export function* gripOf(
  model: MoveModel,
  room: SolveRoom,
  spans: readonly AimSpan[],
  start: ArrayLike<number>,
): Task<number> {
  const from = spans[0].start;
  const to = spans[spans.length - 1].end;
  const values = Array.from(start);
  let grip = Infinity;
  let missed = 0;
  writeStill(model.tracks, room.series);
  for (let look = 0; look <= LOOKS; look++) {
    const t = from + ((to - from) * look) / LOOKS;
    const span = spans.find((one) => t <= one.end) ?? spans[spans.length - 1];
    const problem = span.problem!;
    const aim = room.aims.get(problem)!;
    const interval = intervalAt(model.tracks, t, t < span.end ? "right" : "left");
    writeTracks(model.tracks, interval, t, 0, room.series);
    for (const axis of problem.unknown) room.series[axis * ROOM] = values[axis];
    prepareInstant(model, room, span, aim, interval, 0);
    solveValues(problem, aim, room.series);
    if (aim.miss[0] < MISSED) {
      for (const axis of problem.unknown) values[axis] = room.series[axis * ROOM];
      writeJacobianNow(problem, aim, room.series);
      const rows = equationCount(problem);
      const n = problem.unknown.length;
      if (rows === n) grip = Math.min(grip, solveDense(aim.jacobian.slice(0, n * n), aim.residual.slice(0, n), n));
    } else missed += 1;
    if (look % 8 === 7) yield;
  }
  return 0 < missed ? -missed / (LOOKS + 1) : grip;
}
