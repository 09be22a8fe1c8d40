import { baseFrame, compileRig } from "../rig/chain.ts";
import { solveAim, type AimSolution } from "../rig/aim.ts";
import { aimPlan } from "../rig/aim-axes.ts";
import { solveValues, writeJacobianNow } from "./aim-newton.ts";
import type { Knot } from "./keyed-curve.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import { valueAt } from "./piecewise.ts";
import { ROOM } from "./series.ts";
import { prepareInstant, type SolveRoom } from "./solve-instant.ts";
import { intervalAt, writeTracks } from "./tracks.ts";

/**
 * Values of the unknowns at the start of a span: those that the span before ends with; else of all ways to aim the one in
 * range and nearest to the wished values at the first instant, and to where the axes are when an aim begins later.
 *
 * @param before The span that ends where this one starts.
 */
export function startOfSpan(
  model: MoveModel,
  room: SolveRoom,
  span: AimSpan,
  before: AimSpan | undefined,
  keyed: readonly (readonly Knot[])[],
): number[] {
  const { unknown, targets } = span.problem!;
  const wished = unknown.map((axis) => wishedValue(model, span, axis, keyed));
  if (before?.path && unknown.every((axis) => before.problem!.unknown.includes(axis))) return wished;
  const start = targets === 0 ? wished : chooseBranch(model, room, span, wished);
  return settle(model, room, span, start);
}

/** Where an axis ought to be at the start of a span: where it was, else where it is keyed, wished for, or 0. */
function wishedValue(model: MoveModel, span: AimSpan, axis: number, keyed: readonly (readonly Knot[])[]): number {
  const { start } = span;
  const earlier = keyed[axis].filter((knot) => knot.time <= start);
  const lastKeyed = earlier[earlier.length - 1];
  for (let i = model.spans.length - 1; 0 <= i; i--) {
    const { path, problem, end } = model.spans[i];
    const u = problem ? problem.unknown.indexOf(axis) : -1;
    if (!path || u < 0 || start < end) continue;
    return lastKeyed && end < lastKeyed.time ? lastKeyed.value : valueAt(path.curves[u], end);
  }
  return lastKeyed?.value ?? model.move.near[axis] ?? 0;
}

/** Of all ways to aim at the span's first target the one in range and nearest to the wished values. */
function chooseBranch(model: MoveModel, room: SolveRoom, span: AimSpan, wished: readonly number[]): number[] {
  const problem = span.problem!;
  const { move } = model;
  if (!prepare(model, room, span, wished)) return [...wished];
  const { series } = room;
  const aim = room.aims.get(problem)!;
  const chain = compileRig(move.rig);
  const q = new Float64Array(chain.count);
  move.axes.forEach((axis, i) => {
    if (0 <= axis.joint) q[axis.joint] = model.ratio[i] * series[model.root[i] * ROOM] + model.offset[i];
  });
  const { place } = aim.fall;
  const angle = problem.level && move.rig.head ? "level" : series[model.roll * ROOM];
  const solutions = solveAim(
    chain,
    baseFrame(move.base),
    q,
    problem.unknown.map((axis) => move.axes[axis].joint),
    {
      target: [place[0], place[ROOM], place[2 * ROOM]],
      sight: [1, -aim.wanted.x[0], -aim.wanted.y[0]],
      pupil: aim.pupil[0],
      widths: series[model.focal * ROOM] / (move.optics.squeeze * move.optics.sensor[0]),
      rule: problem.level ? aimPlan(move.rig, angle, move.up).rule : { kind: "axis" },
    },
    wished,
  );
  // Best first; where there is none that aims, the one that comes nearest.
  const best = solutions[0].status === "converged" ? solutions[0] : leastError(solutions);
  return [...best.values];
}

function leastError(solutions: readonly AimSolution[]): AimSolution {
  return solutions.reduce((best, one) => (one.error < best.error ? one : best));
}

/** Newton's method from a start; for a lone unknown first the equation that it turns most. */
function settle(model: MoveModel, room: SolveRoom, span: AimSpan, start: readonly number[]): number[] {
  const problem = span.problem!;
  const aim = room.aims.get(problem)!;
  prepare(model, room, span, start);
  if (0 <= problem.row) {
    const turned = ([0, 1] as const).map((row) => {
      problem.row = row;
      writeJacobianNow(problem, aim, room.series);
      return Math.abs(aim.jacobian[0]);
    });
    problem.row = turned[0] < turned[1] ? 1 : 0;
  }
  solveValues(problem, aim, room.series);
  return problem.unknown.map((axis) => room.series[axis * ROOM]);
}

function prepare(model: MoveModel, room: SolveRoom, span: AimSpan, values: readonly number[]): boolean {
  const interval = intervalAt(model.tracks, span.start, span.start < model.duration ? "right" : "left");
  writeTracks(model.tracks, interval, span.start, 0, room.series);
  span.problem!.unknown.forEach((axis, u) => (room.series[axis * ROOM] = values[u]));
  return prepareInstant(model, room, span, room.aims.get(span.problem!)!, interval, 0);
}
