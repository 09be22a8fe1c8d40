import { baseFrame, compileRig } from "../rig/chain.ts";
import { solveAim } from "../rig/aim.ts";
import { aimPlan } from "../rig/aim-axes.ts";
import type { Knot } from "./keyed-curve.ts";
import type { MoveModel } from "./move-model.ts";
import { valueAt } from "./piecewise.ts";
import { ROOM } from "./series.ts";
import { prepareInstant, type SolveRoom } from "./solve-instant.ts";
import { intervalAt, writeTracks } from "./tracks.ts";

/**
 * Values of the unknowns to start span `index` from: those that the span before ends with; else of all ways to aim the
 * one in range and nearest to the wished values at the first instant, and to where the axes are when an aim begins later.
 */
export function startOfSpan(
  model: MoveModel,
  room: SolveRoom,
  index: number,
  keyed: readonly (readonly Knot[])[],
): number[] {
  const span = model.spans[index];
  const before = model.spans[index - 1];
  const { unknown } = span.problem!;
  const wished = unknown.map((axis) => wishedValue(model, index, axis, keyed));
  if (before?.path && unknown.every((axis) => before.problem!.unknown.includes(axis))) return wished;
  if (span.problem!.targets === 0) return wished;
  return chooseBranch(model, room, index, wished);
}

/** Where an axis ought to be at the start of a span: where it was, else where it is keyed, wished for, or 0. */
function wishedValue(model: MoveModel, index: number, axis: number, keyed: readonly (readonly Knot[])[]): number {
  const { start } = model.spans[index];
  for (let i = index - 1; 0 <= i; i--) {
    const { path, problem, end } = model.spans[i];
    const u = problem ? problem.unknown.indexOf(axis) : -1;
    if (path && 0 <= u) {
      const since = keyed[axis].filter((knot) => end < knot.time && knot.time < start);
      return since.length === 0 ? valueAt(path.curves[u], end) : since[since.length - 1].value;
    }
  }
  const earlier = keyed[axis].filter((knot) => knot.time <= start);
  if (0 < earlier.length) return earlier[earlier.length - 1].value;
  return model.move.near[axis] ?? 0;
}

function chooseBranch(model: MoveModel, room: SolveRoom, index: number, wished: readonly number[]): number[] {
  const span = model.spans[index];
  const problem = span.problem!;
  const { move } = model;
  const interval = intervalAt(model.tracks, span.start, "right");
  const { series } = room;
  writeTracks(model.tracks, interval, span.start, 0, series);
  problem.unknown.forEach((axis, u) => (series[axis * ROOM] = wished[u]));
  const aim = room.aims.get(problem)!;
  if (!prepareInstant(model, room, span, aim, interval, 0)) return [...wished];
  const chain = compileRig(move.rig);
  const q = new Float64Array(chain.count);
  move.axes.forEach((axis, i) => {
    if (0 <= axis.joint) q[axis.joint] = model.ratio[i] * series[model.root[i] * ROOM] + model.offset[i];
  });
  const { place } = aim.fall;
  const rule = aimPlan(move.rig, problem.level && move.rig.head ? "level" : series[model.roll * ROOM], move.up).rule;
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
      rule: problem.level ? rule : { kind: "axis" },
    },
    wished,
  );
  return [...solutions[0].values];
}
