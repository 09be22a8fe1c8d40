import type { DocumentCode, Severity } from "../base/finding-code.ts";
import type { Pose } from "../base/pose.ts";
import type { Span } from "../base/span.ts";
import type { Vec3 } from "../base/vec3.ts";

/** A URDF file as it states an arm. Metres, radians, seconds, kilograms; spans are of its own text. */
export interface Urdf {
  readonly links: readonly UrdfLink[];
  readonly joints: readonly UrdfJoint[];
}

/** A value with its place in the file. */
export interface Placed<T> {
  readonly value: T;
  readonly span: Span;
}

export interface UrdfLink {
  readonly name: Placed<string>;
  /** Where its centre of mass is, in its own frame, and how heavy it is; absent for a link without a mass. */
  readonly inertial?: { readonly at: Vec3; readonly mass: number };
  readonly collisions: readonly UrdfShape[];
  readonly visuals: readonly UrdfShape[];
}

/** A solid on a link; `pose` places its centre, or a mesh's own origin, in the frame of the link. Sizes are full. */
export interface UrdfShape {
  readonly name?: string;
  readonly pose: Pose;
  readonly solid:
    | { readonly shape: "box"; readonly size: Vec3 }
    | { readonly shape: "cylinder"; readonly radius: number; readonly height: number }
    | { readonly shape: "sphere"; readonly radius: number }
    | { readonly shape: "mesh"; readonly file: Placed<string>; readonly scale: Vec3 };
}

export const MOVING_TYPES = ["revolute", "continuous", "prismatic"] as const;

export interface UrdfJoint {
  readonly name: Placed<string>;
  readonly type: (typeof MOVING_TYPES)[number] | "fixed";
  readonly parent: Placed<string>;
  readonly child: Placed<string>;
  /** The joint's frame in the frame of its parent link. */
  readonly origin: Pose;
  /** Unit vector in the joint's frame. */
  readonly axis: Vec3;
  /** Soft limits taken in; absent for a joint that turns without end, and where the file states none. */
  readonly range?: Placed<{ readonly low: number; readonly high: number }>;
  /** Above 0; absent where the file states none, or 0. */
  readonly speed?: Placed<number>;
  /** value = multiplier · other + offset. */
  readonly mimic?: {
    readonly joint: Placed<string>;
    readonly multiplier: number;
    readonly offset: number;
  };
}

/** A fault of a URDF file, in its own text. */
export interface UrdfProblem {
  readonly code: DocumentCode;
  readonly severity: Severity;
  readonly span: Span;
  readonly message: string;
}

/** Collects the faults of one file. */
export type UrdfFaults = UrdfProblem[];

export function fault(to: UrdfFaults, code: DocumentCode, span: Span, message: string): undefined {
  to.push({ code, severity: "error", span: { start: span.start, end: span.end }, message });
  return undefined;
}

/** A fault that leaves the rig usable. */
export function remark(to: UrdfFaults, code: DocumentCode, span: Span, message: string): void {
  to.push({ code, severity: "warning", span: { start: span.start, end: span.end }, message });
}
