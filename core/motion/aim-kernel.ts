import { descendPoint } from "./descend-point.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import { aimPairRates, aimPairValues, createPairRoom, type PairRoom } from "./aim-pair.ts";
import { createJointRoom, movingChain, type JointRoom, type MovingChain } from "./moving-chain.ts";
import { ROOM } from "./series.ts";
import { writeTarget, type TargetRoom } from "./target-series.ts";
import { createWantedRoom, writeWanted, type WantedRoom } from "./wanted-direction.ts";

/**
 * The common aim written out: one target, solved by the last two turning steps of the chain, with the pupil at rest. It
 * gives what the general solver gives but for rounding, and says so where it does not reach that.
 */
export interface AimKernels {
  readonly chain: MovingChain;
  /** Of the last instant, when `written` is 1. */
  readonly joints: JointRoom;
  readonly written: Uint8Array;
  /** By span: 1 where the kernel is for its aim. Decided once, from the structure of chain and aim. */
  readonly fits: Uint8Array;
  /** By span: the first step of the chain that its aim solves, or the chain's count. */
  readonly first: Int32Array;
  readonly pair: PairRoom;
  readonly wanted: WantedRoom;
}

/** @param series Values of the axes that never move, shape (axes, ROOM). */
export function createAimKernels(model: MoveModel, series: Float64Array): AimKernels {
  const moves = new Set<number>(model.tracks.moving);
  for (const span of model.spans) for (const axis of span.problem?.unknown ?? []) moves.add(axis);
  const chain = movingChain(model.descent, (axis) => !moves.has(axis), series);
  const firstOf = ({ problem }: AimSpan): number => {
    const step = chain.axis.findIndex((axis) => problem?.unknown.includes(axis) === true);
    return step < 0 ? chain.count : step;
  };
  return {
    chain,
    joints: createJointRoom(chain),
    written: new Uint8Array(1),
    fits: Uint8Array.from(model.spans, (span) => (fitsKernel(model, chain, span) ? 1 : 0)),
    first: Int32Array.from(model.spans, firstOf),
    pair: createPairRoom(),
    wanted: createWantedRoom(),
  };
}

function fitsKernel(model: MoveModel, chain: MovingChain, { problem, fromTarget }: AimSpan): boolean {
  if (!problem || problem.targets !== 1 || problem.level || problem.placed || fromTarget < 0) return false;
  const { unknown } = problem;
  const first = chain.count - 2;
  if (first < 0 || unknown.length !== 2 || Number.isNaN(model.stillPupil)) return false;
  for (let i = 0; i < first; i++) if (unknown.includes(chain.axis[i])) return false;
  const [a, b] = [chain.axis[first], chain.axis[first + 1]];
  return a !== b && unknown.includes(a) && unknown.includes(b) && chain.turns[first] + chain.turns[first + 1] === 2;
}

/**
 * Solves the aim of one instant, orders 0 and, if `order` is 3, 1 to 3. `series` holds the tracks and starting values.
 * Returns false, with the starting values as they were, where the general solver must be asked.
 */
export function solveKernel(
  model: MoveModel,
  kernels: AimKernels,
  span: AimSpan,
  series: Float64Array,
  target: TargetRoom,
  order: 0 | 3,
): boolean {
  const { chain, joints, pair, wanted } = kernels;
  const first = chain.count - 2;
  if (
    !writeWanted(model.move.optics, series, model.across * ROOM, model.down * ROOM, model.focal * ROOM, order, wanted)
  )
    return false;
  writeTarget(model.targets[span.fromTarget], series, order, target, pair.point, 0);
  descendPoint(chain, joints, series, first, pair.point, order);
  if (!aimPairValues(chain, joints, series, model.stillPupil, wanted.x[0], wanted.y[0], pair)) return false;
  if (order === 3) aimPairRates(chain, series, wanted.x, wanted.y, pair);
  return true;
}
