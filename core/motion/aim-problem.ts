import { FOCUS_POINTS, type AimFocus } from "./aim-focus.ts";
import { createDescentRoom, type Descent, type DescentRoom } from "./descent.ts";
import { MOST_UNKNOWNS, STEP_SCRATCH } from "./dense-step.ts";
import { ROOM } from "./series.ts";
import { createWantedRoom, type WantedRoom } from "./wanted-direction.ts";

/**
 * Which equations the solved axes answer to in a span of time: the framing, then the horizon, then on a path the pupil's
 * place.
 */
export interface AimProblem {
  readonly descent: Descent;
  /** Axes of the move that are solved: those that aim, at most three, then on a path at most three more. */
  readonly unknown: readonly number[];
  /** The framing of a target, or of the blend of two, or nothing (the roll alone is solved). */
  readonly targets: 0 | 1 | 2;
  /** The horizon is kept: up · (left cos r - up sin r) = 0 for roll r about the view. */
  readonly level: boolean;
  /** The pupil stands at a wanted place: three equations [m]. */
  readonly placed: boolean;
  /**
   * With a single aim axis only one equation of the framing can be kept: 0 across, 1 down, the one that the axis turns
   * most; found at the start of the first span. -1 keeps both.
   */
  row: -1 | 0 | 1;
  /** First step of the descent that hangs on an unknown. */
  readonly firstStep: number;
}

/** All that is written while one instant of an aim is solved. Series of the axes are the caller's. */
export interface AimRoom {
  readonly fall: DescentRoom;
  readonly wanted: WantedRoom;
  /** Its points go down after the others: see `pointCount`. */
  readonly focus?: AimFocus;
  /** Pupil in front of the flange [m], share of a switch of targets, sine and cosine of the roll about the view. */
  readonly pupil: Float64Array;
  readonly share: Float64Array;
  readonly rollSin: Float64Array;
  readonly rollCos: Float64Array;
  /** Squared distances and distances of both targets, and unit vectors to them, (2, ROOM) and (2, 3, ROOM). */
  readonly square: Float64Array;
  readonly length: Float64Array;
  readonly unit: Float64Array;
  /** Blended line of sight, (3, ROOM). */
  readonly sight: Float64Array;
  /** One over its length, shape (1,), and the derivatives of both unit vectors by one unknown, (2, 3). */
  readonly scale: Float64Array;
  readonly unitPush: Float64Array;
  /** Size of the residual that is left, shape (1,). */
  readonly miss: Float64Array;
  /** d thing / d unknown in the flange's frame, shape (unknowns, things, 3). */
  readonly push: Float64Array;
  /** Residuals (6,), their derivatives (6, unknowns) row-major, the step (6,). */
  readonly residual: Float64Array;
  readonly jacobian: Float64Array;
  readonly step: Float64Array;
  readonly trial: Float64Array;
  readonly scratch: Float64Array;
}

/**
 * @param aiming  Axes of the move that the framing and the horizon solve.
 * @param placing Axes that the pupil's place solves together with them; absent: it stands where its axes take it.
 */
export function aimProblem(
  descent: Descent,
  aiming: readonly number[],
  targets: 0 | 1 | 2,
  level: boolean,
  placing?: readonly number[],
): AimProblem {
  const unknown = [...aiming, ...(placing ?? [])];
  let firstStep = descent.count;
  for (let i = descent.count - 1; 0 <= i; i--) if (unknown.includes(descent.axis[i])) firstStep = i;
  const lone = 0 < targets && aiming.length - (level ? 1 : 0) < 2;
  return { descent, unknown, targets, level, placed: placing !== undefined, row: lone ? 0 : -1, firstStep };
}

/** Points of the equations that go down to the flange: the targets, then the place that the pupil is to have. */
export function pointCount(problem: AimProblem): number {
  return problem.targets + (problem.placed ? 1 : 0);
}

/** @param focus Of a lens whose pupil goes with the focus on a target. */
export function createAimRoom(problem: AimProblem, focus: AimFocus | undefined): AimRoom {
  const points = pointCount(problem) + (focus ? FOCUS_POINTS : 0);
  const directions = problem.level ? 1 : 0;
  return {
    fall: createDescentRoom(problem.descent, points, directions),
    wanted: createWantedRoom(),
    ...(focus ? { focus } : {}),
    pupil: new Float64Array(ROOM),
    share: new Float64Array(ROOM),
    rollSin: new Float64Array(ROOM),
    rollCos: new Float64Array(ROOM),
    square: new Float64Array(2 * ROOM),
    length: new Float64Array(2 * ROOM),
    unit: new Float64Array(6 * ROOM),
    sight: new Float64Array(3 * ROOM),
    scale: new Float64Array(1),
    unitPush: new Float64Array(6),
    miss: new Float64Array(1),
    push: new Float64Array(3 * problem.unknown.length * (points + directions)),
    residual: new Float64Array(MOST_EQUATIONS),
    jacobian: new Float64Array(MOST_EQUATIONS * MOST_UNKNOWNS),
    step: new Float64Array(MOST_UNKNOWNS),
    trial: new Float64Array(MOST_UNKNOWNS),
    scratch: new Float64Array(STEP_SCRATCH),
  };
}

/** Two for the framing, one for the horizon, three for the place. */
const MOST_EQUATIONS = 6;

/** Equations of a problem: two for the framing (one for a lone aim axis), one for the horizon, three for the place. */
export function equationCount(problem: AimProblem): number {
  const framing = problem.targets === 0 ? 0 : problem.row < 0 ? 2 : 1;
  return framing + (problem.level ? 1 : 0) + (problem.placed ? 3 : 0);
}
