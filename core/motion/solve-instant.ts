import { createAimKernels, type AimKernels } from "./aim-kernel.ts";
import { createAimRoom, pointCount, type AimProblem, type AimRoom } from "./aim-problem.ts";
import { aimFocusOf, prepareFocus } from "./aim-focus.ts";
import { descendKnown, refineValues, solveRates, solveValues, writeEquations } from "./aim-newton.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import { createPupilSeriesRoom, pupilTermOf, type PupilSeriesRoom } from "./pupil-series.ts";
import { createPathRoom, writePathPlace, type PathRoom } from "./path-series.ts";
import { productTerm, ROOM, writeTurnTerm } from "./series.ts";
import { writeStill } from "./tracks.ts";
import { createTargetRoom, writeTarget, type TargetRoom } from "./target-series.ts";
import { writeWanted } from "./wanted-direction.ts";

/** What a trajectory writes while it solves an instant: made once, never shared between trajectories. */
export interface SolveRoom {
  /** Shape (tracks, ROOM): the axes first. */
  readonly series: Float64Array;
  readonly aims: Map<AimProblem, AimRoom>;
  readonly target: TargetRoom;
  readonly pupil: PupilSeriesRoom;
  readonly path: PathRoom;
  readonly kernels: AimKernels;
  /** The interval of the time line that was evaluated last, and the piece of the solved path, shape (2,). */
  readonly where: Int32Array;
}

export function createSolveRoom(model: MoveModel, moments: readonly AimSpan[] = []): SolveRoom {
  const aims = new Map<AimProblem, AimRoom>();
  const focus = aimFocusOf(model);
  for (const span of [...model.spans, ...moments]) {
    if (span.problem && !aims.has(span.problem)) aims.set(span.problem, createAimRoom(span.problem, focus));
  }
  const series = new Float64Array(model.tracks.curves.length * ROOM);
  writeStill(model.tracks, series);
  return {
    series,
    aims,
    target: createTargetRoom(),
    pupil: createPupilSeriesRoom(),
    path: createPathRoom(),
    kernels: createAimKernels(model, series),
    where: new Int32Array(2),
  };
}

/**
 * Solves the aim of one instant: values, then orders 1 to `order`. `room.series` holds the tracks of this instant and
 * starting values of the unknowns; the unknowns' series are overwritten.
 * Leaves the size of the residual [rad, about, and m] in the aim's `miss`: Infinity when it looks backward or the lens forms no
 * picture there.
 */
export function solveInstant(
  model: MoveModel,
  room: SolveRoom,
  span: AimSpan,
  interval: number,
  order: number,
): AimRoom {
  const problem = span.problem!;
  const aim = room.aims.get(problem)!;
  const pictured = prepareInstant(model, room, span, aim, interval, order);
  if (!refineValues(problem, aim, room.series)) {
    solveValues(problem, aim, room.series);
    writeEquations(problem, aim);
  }
  solveRates(problem, aim, room.series, order);
  if (!pictured) aim.miss[0] = Infinity;
  return aim;
}

/** Writes all that the equations need and takes it down to the unknowns. Returns false where the lens forms no picture. */
export function prepareInstant(
  model: MoveModel,
  room: SolveRoom,
  span: AimSpan,
  aim: AimRoom,
  interval: number,
  order: number,
): boolean {
  const problem = span.problem!;
  const { series } = room;
  const { place } = aim.fall;
  let pictured = true;
  if (0 < problem.targets) {
    writeTarget(model.targets[span.fromTarget], series, order, room.target, place, 0);
    if (problem.targets === 2) {
      writeTarget(model.targets[span.toTarget], series, order, room.target, place, 3 * ROOM);
      for (let k = 0; k <= order; k++) aim.share[k] = series[span.share * ROOM + k];
    }
    pictured = writeWanted(
      model.move.optics,
      series,
      model.across * ROOM,
      model.down * ROOM,
      model.focal * ROOM,
      order,
      aim.wanted,
    );
  }
  if (0 < problem.targets || problem.placed) {
    for (let k = 0; k <= order; k++) aim.pupil[k] = pupilTermOf(model, room.pupil, series, interval, k);
  }
  if (problem.placed) {
    const piece = model.pathPieces[model.pathOf[interval]];
    const at = problem.targets * 3 * ROOM;
    writePathPlace(piece, model.targets, series, model.travel, order, room.path, room.target, place, at);
  }
  if (aim.focus) {
    const at = pointCount(problem) * 3 * ROOM;
    prepareFocus(model, aim.focus, series, interval, order, room.target, place, at);
  }
  if (problem.level) {
    const at = aim.fall.points * 3 * ROOM;
    place.fill(0, at, at + 3 * ROOM);
    for (let axis = 0; axis < 3; axis++) place[at + axis * ROOM] = model.move.up[axis];
    for (let k = 0; k <= order; k++) writeTurnTerm(series, model.roll * ROOM, aim.rollSin, aim.rollCos, 0, k);
  }
  descendKnown(problem, aim, series, order);
  return pictured;
}

/** True when the camera stands on the horizon's own side, not upside down. Right after `solveInstant`. */
export function standsUp(span: AimSpan, aim: AimRoom): boolean {
  const problem = span.problem!;
  if (!problem.level) return true;
  const up = ((problem.descent.count + 1) * aim.fall.things + aim.fall.points) * 3 * ROOM;
  const { place } = aim.fall;
  return 0 < productTerm(place, up + ROOM, aim.rollSin, 0, 0) + productTerm(place, up + 2 * ROOM, aim.rollCos, 0, 0);
}
