import { sameData, sameNumbers } from "../base/same-data.ts";
import type { Task } from "../base/task.ts";
import { equationCount, type AimProblem, type AimRoom } from "./aim-problem.ts";
import { determinantSign } from "./dense-step.ts";
import { equationsName, intervalSignature } from "./interval-signature.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import { pathFits } from "./path-fit.ts";
import type { PathPiece } from "./path-piece.ts";
import { ROOM } from "./series.ts";
import { solveInstant, standsUp, type SolveRoom } from "./solve-instant.ts";
import { FOLLOWED, piecePolynomial, TOO_STEEP, WITHOUT_SOLUTION } from "./solved-path.ts";
import { MISSED } from "./tolerances.ts";
import { writeTracks } from "./tracks.ts";

/** Shortest piece, as a share of its interval: a pole passed faster than this is a jump. Shorter ones time cannot tell apart. */
const SHORTEST = 1e-9;
const ROUNDING = 2e-15;
/** A stretch without a solution is followed this coarsely, as a share of its interval. */
const COARSE = 1 / 16;
/** And the instant at which it begins or ends this closely. */
const EDGE = 1 / 1024;
/** Farthest turn of an unknown over one piece [rad]. */
const FARTHEST = 0.7;

/** Starts for the branch past a pole: turns of the first unknown and of the second [rad]. */
const TURNS = [1, -1, 0.75, -0.75, 0.5, -0.5, 0.25, -0.25, 0].map((share) => share * Math.PI);
const LEANS = [0, 1e-4, -1e-4, 1e-2, -1e-2, 0.2, -0.2];

/** One end of a piece while a path is made: series of the unknowns, (unknowns, ROOM), and what Newton left. */
interface Node {
  readonly t: number;
  readonly series: Float64Array;
  readonly solved: boolean;
  /** Sign of the determinant of the equations: a branch keeps it, and only a pole passed exactly changes it. */
  readonly sign: number;
}

/** All that the solution of one interval hangs on, beside the move's setting. */
export interface RunStart {
  /** The equations, the numbers of the interval, and the way that the pupil is led along. */
  readonly name: string;
  readonly signature: Float64Array;
  readonly way?: PathPiece;
  /** Values of the unknowns that Newton's method starts with, and the sign of the branch, 0 for any. */
  readonly guess: readonly number[];
  readonly sign: number;
}

/** The solution of an aim over one interval of the tracks. An array an unknown; pieces as in `SolvedPath`. */
export interface SolvedRun {
  readonly start: RunStart;
  readonly times: Float64Array;
  readonly coefficients: readonly Float64Array[];
  readonly ends: readonly Float64Array[];
  readonly state: Uint8Array;
  /** Where it comes out: values of the unknowns, and the sign of the branch. */
  readonly values: readonly number[];
  readonly sign: number;
  /** False where it ran out of pieces, so that it hangs on how many there were before. */
  readonly whole: boolean;
}

/** Starting values are rounded to this [rad or m]: so an interval starts alike when the one before ends alike but for rounding. */
const GRID = 2 ** 30;

export function runStart(
  model: MoveModel,
  span: AimSpan,
  interval: number,
  values: readonly number[],
  sign: number,
): RunStart {
  const problem = span.problem!;
  return {
    name: equationsName(model, interval, span),
    signature: intervalSignature(model, interval, problem.unknown),
    way: problem.placed ? model.pathPieces[model.pathOf[interval]] : undefined,
    guess: values.map((value) => Math.round(value * GRID) / GRID),
    sign,
  };
}

/** True when the solution from one start is the solution from the other, to the last bit. */
export function sameStart(a: RunStart, b: RunStart): boolean {
  return (
    a.name === b.name &&
    a.sign === b.sign &&
    a.guess.every((value, u) => value === b.guess[u]) &&
    sameNumbers(a.signature, b.signature) &&
    sameData(a.way, b.way)
  );
}

/**
 * Follows the solution over one interval: pieces short enough that polynomials of degree 9 meet value to jerk everywhere.
 *
 * @param most Pieces that it may make; what is left then is too steep to follow.
 */
export function* solveRun(
  model: MoveModel,
  room: SolveRoom,
  span: AimSpan,
  interval: number,
  start: RunStart,
  most: number,
): Task<SolvedRun> {
  const { knots } = model.tracks;
  const { unknown } = span.problem!;
  const pieces: Pieces = {
    times: [knots[interval]],
    coefficients: unknown.map(() => []),
    ends: unknown.map(() => []),
    state: [],
  };
  let left = solveNode(model, room, span, interval, knots[interval], start.guess);
  let sign = start.sign === 0 ? left.sign : start.sign;
  let whole = true;
  const all = knots[interval + 1] - knots[interval];
  const floor = Math.max(SHORTEST * all, ROUNDING * Math.abs(knots[interval + 1]));
  const ends = [knots[interval + 1]];
  while (0 < ends.length) {
    const right = ends[ends.length - 1];
    const length = right - left.t;
    const tired = length <= floor || most <= pieces.state.length;
    if (most <= pieces.state.length) whole = false;
    const node = solveNode(model, room, span, interval, right, ahead(left, length));
    const same = node.sign === sign || !node.solved;
    const near = turned(model, span, left, node) <= FARTHEST;
    const share = left.solved === node.solved ? COARSE : EDGE;
    const coarse = length <= share * all;
    const blind = !(left.solved && node.solved);
    const fine =
      !blind &&
      same &&
      near &&
      pathFits(model, room, span, { interval, from: left.t, to: right, left: left.series, right: node.series });
    if (fine || tired || (blind && coarse && near)) {
      const kept = tired && !same ? (otherBranch(model, room, span, interval, right, left, sign) ?? node) : node;
      addPiece(pieces, left, kept, fine ? FOLLOWED : blind ? WITHOUT_SOLUTION : TOO_STEEP);
      left = kept;
      // No way to keep the branch: it goes on on the one that there is.
      if (kept.sign !== 0) sign = kept.sign;
      ends.pop();
      if (pieces.state.length % 64 === 0) yield;
    } else ends.push(left.t + length / 2);
  }
  return {
    start,
    times: Float64Array.from(pieces.times),
    coefficients: pieces.coefficients.map((numbers) => Float64Array.from(numbers)),
    ends: pieces.ends.map((numbers) => Float64Array.from(numbers)),
    state: Uint8Array.from(pieces.state),
    values: valuesOf(left),
    sign,
    whole,
  };
}

interface Pieces {
  readonly times: number[];
  readonly coefficients: number[][];
  readonly ends: number[][];
  readonly state: number[];
}

function solveNode(
  model: MoveModel,
  room: SolveRoom,
  span: AimSpan,
  interval: number,
  t: number,
  guess: ArrayLike<number>,
): Node {
  const problem = span.problem!;
  writeTracks(model.tracks, interval, t, ROOM - 1, room.series);
  problem.unknown.forEach((axis, u) => (room.series[axis * ROOM] = guess[u]));
  const aim = solveInstant(model, room, span, interval, ROOM - 1);
  const series = new Float64Array(problem.unknown.length * ROOM);
  const solved = aim.miss[0] < MISSED && standsUp(span, aim);
  problem.unknown.forEach((axis, u) => {
    for (let k = 0; k < ROOM; k++) series[u * ROOM + k] = room.series[axis * ROOM + k];
    // Without a solution the rates mean nothing: the path is then drawn through the nearest values.
    if (!solved) series.fill(0, u * ROOM + 1, (u + 1) * ROOM);
  });
  return { t, series, solved, sign: solved ? signOf(problem, aim) : 0 };
}

/** Taylor series of the left end, `length` later. */
function ahead(left: Node, length: number): number[] {
  const values: number[] = [];
  for (let u = 0; u < left.series.length; u += ROOM) {
    let value = 0;
    for (let k = ROOM - 1; 0 <= k; k--) value = value * length + left.series[u + k];
    // Far beyond its use a series runs away; the value itself is then the better start.
    values.push(Math.abs(value - left.series[u]) <= 2 * FARTHEST ? value : left.series[u]);
  }
  return values;
}

function valuesOf(node: Node): number[] {
  const values: number[] = [];
  for (let u = 0; u < node.series.length; u += ROOM) values.push(node.series[u]);
  return values;
}

/** The farthest turn of an unknown between two nodes [rad]. How far one slides is no matter: sliding has no branches. */
function turned({ move }: MoveModel, span: AimSpan, a: Node, b: Node): number {
  let far = 0;
  span.problem!.unknown.forEach((axis, u) => {
    if (move.axes[axis].type === "rotary") far = Math.max(far, Math.abs(b.series[u * ROOM] - a.series[u * ROOM]));
  });
  return far;
}

function farthest(a: Node, b: Node): number {
  let far = 0;
  for (let u = 0; u < a.series.length; u += ROOM) far = Math.max(far, Math.abs(b.series[u] - a.series[u]));
  return far;
}

/**
 * Past an exact pole the kept branch goes on with the first unknown turned, half a turn for a straight pass, and the
 * second a little to the other side: of the solutions of the kept sign the nearest.
 */
function otherBranch(
  model: MoveModel,
  room: SolveRoom,
  span: AimSpan,
  interval: number,
  t: number,
  left: Node,
  sign: number,
): Node | undefined {
  let best: Node | undefined;
  for (const turn of TURNS) {
    for (const lean of LEANS) {
      const guess = valuesOf(left);
      guess[0] += turn;
      if (1 < guess.length) guess[1] += lean;
      const node = solveNode(model, room, span, interval, t, guess);
      if (!node.solved || node.sign !== sign) continue;
      if (!best || farthest(left, node) < farthest(left, best)) best = node;
    }
  }
  return best;
}

function addPiece(pieces: Pieces, left: Node, right: Node, state: number): void {
  const length = right.t - left.t;
  pieces.coefficients.forEach((coefficients, u) => {
    const from = u * ROOM;
    const rise = right.series[from] - left.series[from];
    if (state === FOLLOWED) coefficients.push(...piecePolynomial(left.series, from, right.series, from, length, 0));
    // Smooth and within its ends: there is no solution to follow here.
    else coefficients.push(left.series[from], 0, 0, 10 * rise, -15 * rise, 6 * rise, 0, 0, 0, 0);
    for (const node of [left, right]) pieces.ends[u].push(...node.series.subarray(from, from + ROOM));
  });
  pieces.times.push(right.t);
  pieces.state.push(state);
}

function signOf(problem: AimProblem, { jacobian, scratch }: AimRoom): number {
  return determinantSign(jacobian, equationCount(problem), problem.unknown.length, scratch);
}
