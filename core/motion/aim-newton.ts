import { equationCount, type AimProblem, type AimRoom } from "./aim-problem.ts";
import { looksForward, writeJacobian, writeResidualTerm } from "./aim-residual.ts";
import { descendAll } from "./descend-all.ts";
import { descendTerm, writeJointTerms } from "./descent.ts";
import { denseStep } from "./dense-step.ts";
import { leastSquaresStep } from "./least-squares-step.ts";
import { ROOM } from "./series.ts";

/** A step [rad or m] so short that it is the last, if what it leaves is rounding. */
const LAST = 3e-8;
const ROUNDING = 1e-14;
/** A start this near [rad or m] needs no care: Newton's method leaves its square. */
const NEAR = 1e-5;
const MOST_ROUNDS = 30;
const MOST_CUTS = 12;
/** Longest step of one round [rad or m]. */
const LONGEST = 0.6;

/**
 * Takes all that does not hang on the unknowns down to the first step that does, orders 0 to `order`. The things at step
 * 0 and the axes' series must be there.
 */
export function descendKnown(problem: AimProblem, room: AimRoom, axes: Float64Array, order: number): void {
  const { descent, firstStep } = problem;
  for (let k = 0; k <= order; k++) writeJointTerms(descent, room.fall, axes, 0, firstStep, k);
  descendAll(descent, room.fall, firstStep, order);
}

/** Takes coefficient `k` from the first unknown step to the flange and writes the residuals. */
export function descendUnknown(problem: AimProblem, room: AimRoom, axes: Float64Array, k: number): void {
  const { descent, firstStep } = problem;
  writeJointTerms(descent, room.fall, axes, firstStep, descent.count, k);
  descendTerm(descent, room.fall, firstStep, descent.count + 1, k);
  writeResidualTerm(problem, room, k);
}

/**
 * Newton's method on order 0 from the values that the unknowns have in `axes`; a step that does not come nearer is
 * halved. `descendKnown` must have run. Leaves the size of the residual [rad, about, and m] in `room.miss`; Infinity when the
 * sight points backward.
 */
export function solveValues(problem: AimProblem, room: AimRoom, axes: Float64Array): void {
  const { unknown } = problem;
  descendUnknown(problem, room, axes, 0);
  writeMiss(problem, room);
  for (let round = 0; round < MOST_ROUNDS && 0 < room.miss[0]; round++) {
    writeEquations(problem, room);
    writeStep(problem, room);
    let longest = 0;
    for (let u = 0; u < unknown.length; u++) {
      room.trial[u] = axes[unknown[u] * ROOM];
      longest = Math.max(longest, Math.abs(room.step[u]));
    }
    const before = room.miss[0];
    // Errors go with their square: after a step this short what is left is rounding.
    const final = longest < LAST && before < 1e-6;
    let share = longest <= LONGEST ? 1 : LONGEST / longest;
    let better = false;
    for (let cut = 0; cut < MOST_CUTS && !better; cut++, share /= 2) {
      for (let u = 0; u < unknown.length; u++) axes[unknown[u] * ROOM] = room.trial[u] - share * room.step[u];
      descendUnknown(problem, room, axes, 0);
      writeMiss(problem, room);
      better = room.miss[0] < before || final;
    }
    if (final && room.miss[0] < ROUNDING) return;
    if (!better) {
      for (let u = 0; u < unknown.length; u++) axes[unknown[u] * ROOM] = room.trial[u];
      descendUnknown(problem, room, axes, 0);
      room.miss[0] = before;
      return;
    }
  }
}

/**
 * The same from a start that is as good as the solution, as a path gives it: one step, and a second from the equations
 * there, which also serve the rates. False, with the start left as it was, where that is not enough.
 */
export function refineValues(problem: AimProblem, room: AimRoom, axes: Float64Array): boolean {
  const { unknown } = problem;
  descendUnknown(problem, room, axes, 0);
  writeMiss(problem, room);
  const before = room.miss[0];
  if (!(before < NEAR)) return false;
  const first = writeNextStep(problem, room);
  if (!(first < NEAR)) return false;
  for (let u = 0; u < unknown.length; u++) room.trial[u] = axes[unknown[u] * ROOM];
  takeStep(problem, room, axes);
  descendUnknown(problem, room, axes, 0);
  writeMiss(problem, room);
  const left = room.miss[0];
  const second = left < before || left < ROUNDING ? writeNextStep(problem, room) : Infinity;
  if (!(second < LAST)) {
    for (let u = 0; u < unknown.length; u++) axes[unknown[u] * ROOM] = room.trial[u];
    return false;
  }
  if (left < ROUNDING) return true;
  takeStep(problem, room, axes);
  // What a shorter step changes in the other terms is less than their rounding.
  if (ROUNDING < second) {
    descendUnknown(problem, room, axes, 0);
    writeMiss(problem, room);
  }
  return true;
}

/** The step from where the unknowns are; returns the longest part of it [rad or m]. */
function writeNextStep(problem: AimProblem, room: AimRoom): number {
  writeEquations(problem, room);
  writeStep(problem, room);
  let longest = 0;
  for (let u = 0; u < problem.unknown.length; u++) longest = Math.max(longest, Math.abs(room.step[u]));
  return longest;
}

function takeStep({ unknown }: AimProblem, room: AimRoom, axes: Float64Array): void {
  for (let u = 0; u < unknown.length; u++) axes[unknown[u] * ROOM] -= room.step[u];
}

/** Derivatives of the residuals by the unknowns where they are. After `descendUnknown(…, 0)`. */
export function writeEquations(problem: AimProblem, room: AimRoom): void {
  writePush(problem, room);
  writeJacobian(problem, room);
}

/**
 * Orders 1 to `order` of the unknowns by implicit differentiation: with order k of the unknowns 0 the residuals have
 * coefficient r_k, and as they must vanish the unknowns have -J⁻¹ r_k. The values must be solved and the equations
 * written.
 */
export function solveRates(problem: AimProblem, room: AimRoom, axes: Float64Array, order: number): void {
  const { unknown } = problem;
  for (let k = 1; k <= order; k++) {
    for (let u = 0; u < unknown.length; u++) axes[unknown[u] * ROOM + k] = 0;
    descendUnknown(problem, room, axes, k);
    writeStep(problem, room);
    for (let u = 0; u < unknown.length; u++) axes[unknown[u] * ROOM + k] = -room.step[u];
    // Higher orders need this one with its rates; of the last only the rates are wanted.
    if (k < order) descendUnknown(problem, room, axes, k);
  }
}

/** Residuals and their derivatives at the values in `axes`, without a step. `descendKnown` must have run. */
export function writeJacobianNow(problem: AimProblem, room: AimRoom, axes: Float64Array): void {
  descendUnknown(problem, room, axes, 0);
  writeEquations(problem, room);
}

/** The step that the residuals ask for, into `room.step`. */
function writeStep(problem: AimProblem, room: AimRoom): void {
  const rows = equationCount(problem);
  const columns = problem.unknown.length;
  if (problem.placed) denseStep(room.jacobian, room.residual, rows, columns, room.scratch, room.step);
  else leastSquaresStep(room.jacobian, room.residual, rows, columns, room.step);
}

function writeMiss(problem: AimProblem, room: AimRoom): void {
  const { residual } = room;
  let sum = 0;
  for (let row = 0; row < equationCount(problem); row++) sum += residual[row] * residual[row];
  room.miss[0] = looksForward(problem, room) ? Math.sqrt(sum) : Infinity;
}

/** Derivatives of every thing by every unknown, carried down beside the things themselves. */
function writePush(problem: AimProblem, room: AimRoom): void {
  const { descent, unknown, firstStep } = problem;
  const { things, points, place, sin, cos } = room.fall;
  const { rotation: n } = descent;
  for (let u = 0; u < unknown.length; u++) {
    let first = firstStep;
    while (first < descent.count && descent.axis[first] !== unknown[u]) first++;
    for (let p = 0; p < things; p++) {
      let x = 0;
      let y = 0;
      let z = 0;
      for (let i = first; i <= descent.count; i++) {
        const i9 = 9 * i;
        const a = n[i9] * x + n[i9 + 1] * y + n[i9 + 2] * z;
        const b = n[i9 + 3] * x + n[i9 + 4] * y + n[i9 + 5] * z;
        const c = n[i9 + 6] * x + n[i9 + 7] * y + n[i9 + 8] * z;
        const turns = i < descent.count && descent.turns[i] === 1;
        x = turns ? cos[i * ROOM] * a + sin[i * ROOM] * b : a;
        y = turns ? cos[i * ROOM] * b - sin[i * ROOM] * a : b;
        z = c;
        if (i === descent.count || descent.axis[i] !== unknown[u]) continue;
        const at = ((i + 1) * things + p) * 3 * ROOM;
        const ratio = descent.ratio[i];
        if (turns) {
          // d(Rz(-q) y)/dq = (y', -x', 0).
          x += ratio * place[at + ROOM];
          y -= ratio * place[at];
        } else if (p < points) z -= ratio;
      }
      const to = (u * things + p) * 3;
      room.push[to] = x;
      room.push[to + 1] = y;
      room.push[to + 2] = z;
    }
  }
}
