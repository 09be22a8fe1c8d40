import type { Dimension } from "../base/dimension.ts";
import type { FindingCode } from "../base/finding-code.ts";
import type { Limit } from "../base/limits.ts";
import type { FileId, Place } from "../base/span.ts";
import type { PlacedFinding } from "../checks/finding.ts";
import type { DocumentKind } from "../model/document-kind.ts";

/** A number on both sides, SI; absent on a side that has none. */
export interface Amount {
  readonly before?: number;
  readonly after?: number;
  readonly dimension: Dimension;
}

/** The largest of a difference over time, SI or px. `at` is played time of the move after [s]. */
export interface LargestChange {
  readonly value: number;
  readonly at: number;
  readonly dimension: Dimension;
}

/** What was written on both sides, as people read it, `was` and `is` absent where it was not written. */
export interface FieldChange {
  /** Where in the document or the key, by the names of fields: `axes.pan`, `joints.lift.limits.speed`, `target`. */
  readonly field: string;
  /** `12.5 deg`. */
  readonly was?: string;
  readonly is?: string;
  /** How far it went, signed, SI; absent where it is no number or not of the same dimension. */
  readonly by?: number;
  readonly dimension?: Dimension;
  readonly place: Sides<Place>;
}

export interface Sides<T> {
  readonly before?: T;
  readonly after?: T;
}

/** One key that was added, removed, renamed, moved in time or changed. */
export interface KeyReview {
  /** Its label: of the side after, or before for a key that is gone. */
  readonly key: string;
  readonly state: "added" | "removed" | "changed";
  /** The label before, where the name is another one. */
  readonly renamedFrom?: string;
  /** Played time [s]. */
  readonly time: Amount;
  /** What else is another, in the order of the document. */
  readonly fields: readonly FieldChange[];
  readonly place: Sides<Place>;
}

/** What a change does to the motion as a whole; what only one side has is left out. */
export interface Effects {
  readonly duration: Amount;
  readonly axes: readonly AxisEffect[];
  /** Between the entrance pupils at equal shares of both moves, and at equal played times. */
  readonly path?: { readonly byTime: LargestChange; readonly byShare: LargestChange };
  /** Of each target that both have [delivered px of the move after]. */
  readonly framing: readonly { readonly target: string; readonly largest: LargestChange }[];
  /** Of the focus distance. */
  readonly focus?: LargestChange;
  /** Least distance of the rig and the camera to what they must not touch. */
  readonly clearance?: Amount;
  /** Worst radius of the circle that holds 95 of 100 passes [captured px]. */
  readonly passError?: Amount;
}

export interface AxisEffect {
  readonly axis: string;
  readonly type: "linear" | "rotary";
  /** Its highest share of any of its limits. */
  readonly share: Amount;
  /** The limit of which that is: `speed`, `accel`, `jerk`, `range`. */
  readonly of: Sides<Limit>;
  /** Played time of that share on each side [s]. */
  readonly at: Sides<number>;
  /** Between the axis's values at equal played times; absent where the move lacks it on a side. */
  readonly largest?: LargestChange;
}

export type FindingState = "new" | "gone" | "still";

export interface FindingReview {
  readonly state: FindingState;
  readonly code: FindingCode;
  /** What it is about, see `elementOf`: of the side after; of the side before where it is gone. */
  readonly element: string;
  /** Of the side after; of the side before where it is gone. */
  readonly finding: PlacedFinding;
  /** Of the side before, for one that is still there. */
  readonly before?: PlacedFinding;
}

/**
 * Whether the motion is another one: `same` when every axis, the camera, the lens and the targets go the same way in the
 * same time but for rounding of units, whatever the text says, and so do its passes and its way back; `unknown` when a
 * side can't be solved. A move that only one side has is `changed`.
 */
export type MotionVerdict = "same" | "changed" | "unknown";

/** What a change does to one move. */
export interface MoveReview {
  /** Of the side after; of the side before for one that is gone. */
  readonly file: FileId;
  /** The file before, where it is another one. */
  readonly renamedFrom?: FileId;
  readonly title: string;
  readonly state: "added" | "removed" | "both";
  readonly motion: MotionVerdict;
  /** True when the move's own text is the same to the last byte: what changed is in what it names. */
  readonly isTextSame: boolean;
  /** Why a side can't be solved, as a sentence. */
  readonly problem: Sides<string>;
  readonly keys: readonly KeyReview[];
  /** All keys with their played times [s], of the side after, or before for a move that is gone; absent where it is not solved. */
  readonly timeline?: readonly { readonly key: string; readonly at: number }[];
  /** Of the move outside of its keys. */
  readonly fields: readonly FieldChange[];
  /**
   * Absent where a side that is there can't be solved, and where nothing in it is another: equal motion, limits, bodies,
   * targets and pictures. Of a move that only one side has, its own figures.
   */
  readonly effects?: Effects;
  readonly findings: readonly FindingReview[];
  /** Documents that it names, directly or not, and that changed: rig, camera, set, mesh, settings of checks. */
  readonly causes: readonly FileId[];
}

/** What changed in a rig, a camera, a set, a shoot, a configuration or a file that documents name. */
export interface DocumentReview {
  readonly file: FileId;
  readonly renamedFrom?: FileId;
  /** Absent for a mesh, a picture or a URDF file. */
  readonly kind?: DocumentKind;
  readonly state: "added" | "removed" | "both";
  /** True when it is the same to the last byte: what changed is in what it names. */
  readonly isTextSame: boolean;
  /** True when it says the same: another layout, order, comment or unit. */
  readonly isMeaningSame: boolean;
  readonly fields: readonly FieldChange[];
  /** Of the document itself, its text and, for a shoot, its day. */
  readonly findings: readonly FindingReview[];
  /** Moves that use it, whether they are changed by it or not. */
  readonly moves: readonly FileId[];
}

/** What a change of a workspace means. Files in the order of their names. */
export interface Review {
  readonly moves: readonly MoveReview[];
  readonly documents: readonly DocumentReview[];
}
