import type { Task } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { isKept, limitShares, neediest, type LimitShare } from "./retime-shares.ts";
import { scaledMove } from "./retime-timing.ts";
import type { Trajectory } from "./trajectory.ts";

/** Why no factor can be told. */
export type NoFit =
  /** No axis that moves states a limit. */
  | { readonly status: "no-limits" }
  /** What has limits does not move. */
  | { readonly status: "still" }
  /** A rate has no bound, at whatever speed. */
  | { readonly status: "unbounded"; readonly at: LimitShare }
  /** However slow the move is, a limit stays broken: what breaks it does not slow down with the move. */
  | { readonly status: "not-by-time"; readonly at: LimitShare };

/** A move at the bound of its limits: one share is 0.99 to 1, none is more. */
export interface WholeFit {
  readonly status: "fitted";
  /** New time over old; less than 1 where the move can be faster. */
  readonly factor: number;
  readonly move: ResolvedMove;
  readonly trajectory: Trajectory;
  readonly shares: readonly LimitShare[];
  /** True where something does not slow down with the move and the factor was found by planning again and again. */
  readonly iterated: boolean;
}

/** How far from 1 rounding leaves a share that the closed form brings there. */
const ROUNDING = 1e-6;
/** A share that ends between this and 1 is at the bound. */
const AT_BOUND = 0.995;
/** Factors beyond these are no cure. */
const MOST_FACTOR = 1e4;
const MOST_TRIALS = 60;

interface Trial {
  readonly factor: number;
  readonly move: ResolvedMove;
  readonly trajectory: Trajectory;
  readonly shares: readonly LimitShare[];
  readonly worst: LimitShare;
}

/**
 * The smallest uniform stretch that keeps every limit, or the largest shrinking: ways, holds and ramps times one factor,
 * which is the largest of r, √r and ∛r over the shares r of speed, acceleration and jerk limits, as rates go down with the
 * first, second and third power of time. The result is planned again; where it is then not at the bound, because a
 * target's own path keeps its time, the factor is found by trials.
 *
 * @param planned The move's own trajectory, when it is at hand.
 */
export function* fitWhole(move: ResolvedMove, planned?: Trajectory): Task<WholeFit | NoFit> {
  const first = yield* tryFactor(move, 1, planned);
  if (!("worst" in first)) return first;
  let factor = first.worst.need;
  let last = first;
  for (let closeness = 0; closeness < 4; closeness++) {
    const trial = yield* tryFactor(move, factor);
    if (!("worst" in trial)) return trial;
    const { need } = trial.worst;
    if (keepsAll(trial) && 1 - ROUNDING <= need) return fitted(trial, false);
    last = trial;
    if (ROUNDING < Math.abs(need - 1)) break;
    factor *= need * (1 + 1e-12 * 4 ** closeness);
  }
  return yield* searchFactor(move, [first, last]);
}

/** Brackets the bound between a factor that breaks a limit and one that does not, and halves until it is met. */
function* searchFactor(move: ResolvedMove, known: readonly Trial[]): Task<WholeFit | NoFit> {
  let kept = leastOf(known.filter(keepsAll));
  let broken = known.filter((one) => !keepsAll(one)).reduce<Trial | undefined>(longer, undefined);
  let trials = 0;
  while (!kept) {
    // Down to a limit that time does not move, each step helps less.
    const factor = broken!.factor * Math.max(1.25, Math.min(4, broken!.worst.need));
    if (MOST_FACTOR < factor || MOST_TRIALS < ++trials) return { status: "not-by-time", at: broken!.worst };
    const trial = yield* tryFactor(move, factor);
    if (!("worst" in trial)) return trial;
    if (keepsAll(trial)) kept = trial;
    else broken = trial;
  }
  while (!broken || kept.factor < broken.factor) {
    const trial: Trial | NoFit = yield* tryFactor(move, kept.factor * Math.min(0.8, Math.max(0.25, kept.worst.need)));
    if (!("worst" in trial) || MOST_TRIALS < ++trials) return fitted(kept, true);
    if (keepsAll(trial)) kept = trial;
    else broken = trial;
  }
  while (kept.worst.share < AT_BOUND && kept.factor - broken.factor > 1e-9 * kept.factor && ++trials < MOST_TRIALS) {
    const trial: Trial | NoFit = yield* tryFactor(move, Math.sqrt(kept.factor * broken.factor));
    if (!("worst" in trial)) return trial;
    if (keepsAll(trial)) kept = trial;
    else broken = trial;
  }
  return fitted(kept, true);
}

const keepsAll = ({ shares }: Trial): boolean => shares.every(isKept);
const longer = (a: Trial | undefined, b: Trial): Trial => (a && b.factor <= a.factor ? a : b);
const leastOf = (trials: readonly Trial[]): Trial | undefined =>
  trials.reduce<Trial | undefined>((a, b) => (a && a.factor <= b.factor ? a : b), undefined);

function fitted({ factor, move, trajectory, shares }: Trial, iterated: boolean): WholeFit {
  return { status: "fitted", factor, move, trajectory, shares, iterated };
}

function* tryFactor(move: ResolvedMove, factor: number, planned?: Trajectory): Task<Trial | NoFit> {
  const scaled = factor === 1 ? move : scaledMove(move, factor);
  const trajectory = planned ?? (yield* planTrajectory(scaled));
  const shares = yield* limitShares(trajectory);
  const worst = neediest(shares);
  if (!worst) return { status: "no-limits" };
  if (!(worst.share < Infinity)) return { status: "unbounded", at: worst };
  if (worst.share === 0) return { status: "still" };
  return { factor, move: scaled, trajectory, shares, worst };
}
