import type { Piecewise } from "./piecewise.ts";
import type { AimProblem } from "./aim-problem.ts";
import type { Descent } from "./descent.ts";
import type { PathNote } from "./path-note.ts";
import type { PathPiece } from "./path-piece.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import type { SolvedPath } from "./solved-path.ts";
import type { TargetCourse } from "./target-series.ts";
import type { Tracks } from "./tracks.ts";
import type { AxisSource, KeyStatus } from "./trajectory.ts";

/** A stretch of time in which the same axes are solved for the same targets. */
export interface AimSpan {
  readonly start: number;
  readonly end: number;
  /** Targets by index, -1 for none; they differ in a switch. */
  readonly fromTarget: number;
  readonly toTarget: number;
  /** Track of the share of the switch, or -1. */
  readonly share: number;
  /** Absent where no axis is solved: the aim axes then run on their tracks. */
  readonly problem?: AimProblem;
  /** Where the unknowns run, for starting values; set when the span is solved. */
  path?: SolvedPath;
}

/** What focus follows in a stretch of time: targets by index, -1 for the track of set distances. */
export interface FocusSpan {
  readonly start: number;
  readonly end: number;
  readonly from: number;
  readonly to: number;
  readonly share: number;
}

/** A move made ready to be evaluated. Axes of the move are also the first tracks. */
export interface MoveModel {
  readonly move: ResolvedMove;
  readonly duration: number;
  readonly descent: Descent;
  /** Axis that each axis hangs on in the end (itself unless it follows): value = ratio · root + offset. */
  readonly root: Int32Array;
  readonly ratio: Float64Array;
  readonly offset: Float64Array;
  readonly tracks: Tracks;
  readonly across: number;
  readonly down: number;
  readonly focal: number;
  readonly iris: number;
  /** Roll about the view of a rig without a head. */
  readonly roll: number;
  /** Set focus distances. */
  readonly focus: number;
  readonly targets: readonly TargetCourse[];
  /** What the pupil runs along where keys give paths, the track of the length travelled, and the piece by interval, -1 for none. */
  readonly pathPieces: readonly PathPiece[];
  readonly travel: number;
  readonly pathOf: Int32Array;
  readonly pathNotes: readonly PathNote[];
  readonly spans: readonly AimSpan[];
  /** Span by interval of `tracks`. */
  readonly spanOf: Int32Array;
  /** Empty when no key gives a focus. */
  readonly focusSpans: readonly FocusSpan[];
  readonly focusOf: Int32Array;
  /** Pupil in front of the flange [m]; NaN when zoom or focus moves it. */
  readonly stillPupil: number;
  readonly sources: readonly AxisSource[];
  readonly keys: readonly KeyStatus[];
  readonly unset: readonly number[];
}

/** A curve and the track number that it got. */
export interface TrackList {
  readonly curves: Piecewise[];
  add(curve: Piecewise): number;
}

export function trackList(): TrackList {
  const curves: Piecewise[] = [];
  return { curves, add: (curve) => curves.push(curve) - 1 };
}

/** True for an axis that an aim solves in some span. */
export function isFollowed(model: MoveModel, axis: number): boolean {
  return model.spans.some((span) => span.path !== undefined && span.problem!.unknown.includes(axis));
}
