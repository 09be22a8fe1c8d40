import type { Dimension } from "../base/dimension.ts";
import type { OriginId } from "../base/origin-id.ts";
import type { QuantityName } from "../base/quantities.ts";
import type { Rate } from "../base/rate.ts";
import type { Vec2, Vec3 } from "../base/vec3.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import type { AxisLimits, AxisOrigins, BasePlace, Body, RangeLimit, Repeat, ResolvedRig } from "../rig/resolved-rig.ts";

/** A table that turns what stands on it: points p of its frame are at `at` + R(along, angle) p; parallel to the set at angle 0. */
export interface ResolvedTurntable {
  readonly name: string;
  readonly at: Vec3;
  readonly along: Vec3;
  readonly range?: RangeLimit;
  readonly limits: AxisLimits;
  readonly repeat?: Repeat;
  readonly origins: AxisOrigins;
  /** What stands on it repeats so often round the axis: stripes, facets, spokes. */
  readonly repeats?: { readonly count: number; readonly origin: OriginId };
}

export interface ResolvedTarget {
  readonly name: string;
  /** In the set, or in the frame of turntable `on` [m]. For a target with `follow`, its place before the first key. */
  readonly at: Vec3;
  /** Index into `turntables`. */
  readonly on?: number;
  /** A target that moves by itself: places over played time [s], ascending. */
  readonly follow?: readonly { readonly time: number; readonly to: Vec3 }[];
  readonly origin: OriginId;
}

/** Index into `MoveAxis[]`: the rig's joints that are not fixed, in chain order, then the turntables. */
export type AxisIndex = number;

/**
 * One axis as a move sees it. `source` says where its value comes from in this move: keys, the solver, its leader, or
 * the set-up (constant).
 */
export interface MoveAxis {
  readonly name: string;
  readonly type: "linear" | "rotary";
  readonly role: "driven" | "setup" | "follows" | "turntable";
  /** Index into `rig.joints`, or -1 for a turntable. */
  readonly joint: number;
  /** Index into `turntables`, or -1. */
  readonly turntable: number;
  readonly range?: RangeLimit;
  readonly positions?: readonly number[];
  readonly limits: AxisLimits;
  readonly repeat?: Repeat;
  readonly origins: AxisOrigins;
}

export type ResolvedAim =
  | { readonly kind: "none"; readonly origin: OriginId }
  | { readonly kind: "target"; readonly target: number; readonly origin: OriginId };

export type ResolvedFocus =
  | { readonly kind: "target"; readonly target: number; readonly origin: OriginId }
  | { readonly kind: "distance"; readonly distance: number; readonly origin: OriginId };

export type ResolvedRoll =
  | { readonly kind: "angle"; readonly angle: number; readonly origin: OriginId }
  | { readonly kind: "level"; readonly origin: OriginId };

/** Where a camera key puts the entrance pupil. */
export type ResolvedCameraPoint =
  | {
      readonly kind: "at";
      readonly at: Vec3;
      readonly origin: OriginId;
      /** Where `at` itself is stated. */
      readonly placeOrigin?: OriginId;
    }
  | {
      readonly kind: "offset";
      readonly from: number;
      readonly offset: Vec3;
      /** Turntable whose directions `offset` is in; absent: the set's. */
      readonly in?: number;
      readonly origin: OriginId;
      /** Where `offset` itself is stated. */
      readonly placeOrigin?: OriginId;
    };

/**
 * How a channel goes from rest to rest: with least jerk; at constant speed between ramps of `ramp` [s] each; or as the cubic
 * Bézier curve of CSS Easing Functions Level 1 with the handles (x1, y1) and (x2, y2), its ends rounded to rest over
 * `ramp` [s], a tenth of the way's time when absent. Ramps count played time before the speeds of keys.
 */
export type ResolvedEase =
  | { readonly kind: "minimum-jerk" }
  | { readonly kind: "linear"; readonly ramp: number }
  | { readonly kind: "cubic"; readonly handles: readonly [number, number, number, number]; readonly ramp?: number };

/** How the camera comes to a key from the key before. */
export type ResolvedPath =
  | { readonly kind: "line"; readonly origin: OriginId }
  | { readonly kind: "arc-via"; readonly via: Vec3; readonly origin: OriginId }
  | { readonly kind: "arc-about"; readonly target: number; readonly along: Vec3; readonly origin: OriginId };

export interface ResolvedKey {
  /** `top`, or `key 2` (counted from 1) for a key without a name. */
  readonly label: string;
  readonly name?: string;
  /** Played time [s], ascending; the first is 0. */
  readonly time: number;
  readonly stop: boolean;
  /** Played time for which everything rests at this key, from `time` on [s]; more than 0. Such a key also stops. */
  readonly hold?: number;
  /** How the channels that this key gives come to it; absent: the C2 curve through all keys. */
  readonly ease?: ResolvedEase;
  /** How the camera comes to this key; absent: as its axes take it. */
  readonly path?: ResolvedPath;
  /** Rounds the corner of the path at this key: at most this far from it along the path the rounding begins [m]. */
  readonly blend?: { readonly length: number; readonly origin: OriginId };
  /** Shapes a change of target that ends at this key: shares of the way from where it begins otherwise. */
  readonly switch?: {
    readonly begin: number;
    readonly end: number;
    readonly ease?: ResolvedEase;
    readonly origin: OriginId;
  };
  /** Share of written speed at this key: a channel of its own. */
  readonly speed?: { readonly share: number; readonly origin: OriginId };
  /** As written, before any `speed` [s]; absent: `time` times the move's `speed`. */
  readonly written?: number;
  readonly axes: readonly { readonly axis: AxisIndex; readonly value: number; readonly origin: OriginId }[];
  readonly camera?: ResolvedCameraPoint;
  readonly aim?: ResolvedAim;
  /** Of the captured picture, shares from left and top. */
  readonly framing?: Vec2;
  readonly framingOrigin: OriginId;
  readonly focus?: ResolvedFocus;
  readonly iris?: { readonly value: number; readonly origin: OriginId };
  /** Focal length [m]. */
  readonly zoom?: { readonly focal: number; readonly origin: OriginId };
  readonly roll?: ResolvedRoll;
  readonly origin: OriginId;
  readonly timeOrigin: OriginId;
}

/** A quantity of the motion that a move's own test looks at. */
export interface ResolvedMeasure {
  readonly quantity: QuantityName;
  /** Index of the axis or target that it is of; -1 for one that is of neither. */
  readonly subject: number;
}

/** A test of the move's own: what is measured stays within `low`..`high` (SI) from `from` to `to` [s, played]. */
export interface ResolvedExpectation {
  /** As written: `pan.speed`. */
  readonly of: string;
  readonly measure: ResolvedMeasure;
  readonly dimension: Dimension;
  readonly low?: number;
  readonly high?: number;
  readonly from: number;
  readonly to: number;
  readonly origin: OriginId;
}

/**
 * How the rig comes back to its first values after a take. `reversed`: the way it came, at `share` of the take's speed.
 * `direct`: every axis and turntable at once, in `time` [s], smoothly through what `via` gives at shares of that time.
 * `none`: not by the rig's own motors.
 */
export type ResolvedWayBack =
  | { readonly kind: "reversed"; readonly share: number; readonly origin: OriginId }
  | {
      readonly kind: "direct";
      readonly time: number;
      readonly timeOrigin: OriginId;
      readonly via: readonly {
        /** Share of `time`, more than 0 and less than 1, ascending. */
        readonly at: number;
        readonly axes: ResolvedKey["axes"];
        readonly origin: OriginId;
      }[];
      readonly origin: OriginId;
    }
  | { readonly kind: "none"; readonly origin: OriginId };

export interface Tolerances {
  /** Captured px. */
  readonly match: number;
  readonly aim: number;
  /** [m] */
  readonly clearance: number;
  /** Between parts of the rig and the camera themselves [m]; absent: `OWN_CLEARANCE` of the check. */
  readonly selfClearance?: number;
  /** Share of a limit above which `near-limit` informs. */
  readonly nearLimit: number;
  /** How far the subject may smear while the shutter is open [captured px]; absent: no limit. */
  readonly blur?: number;
  /** Least time to cross the delivered picture [s]; absent: by common practice. */
  readonly crossing?: number;
  /** Distance to people within which nothing moves faster than the reduced speed [m]; absent: an arm's reach. */
  readonly people?: number;
}

/**
 * Where the move's own text names what it uses and says where the rig stands; 0 where it does not. Findings about what the
 * rig or the camera is by itself are placed there.
 */
export interface Uses {
  readonly rig: OriginId;
  readonly camera: OriginId;
  readonly set: OriginId;
  readonly place: OriginId;
}

/** One variant of the move, taken once or more. */
export interface ResolvedPass {
  readonly name: string;
  readonly times: number;
  /** How far targets are off their places in it [m], by index; each in the frame that its place is given in. */
  readonly targets: Readonly<Record<number, Vec3>>;
  /** Its name. */
  readonly origin: OriginId;
  /** Where `times` is stated; 0 where it is not. */
  readonly timesOrigin: OriginId;
}

/** A picture by its file, how much it covers at first, 0..1, and what it is stretched to. */
export interface ResolvedPlate {
  readonly file: string;
  readonly opacity: number;
  readonly fills: "captured" | "delivered";
  readonly origin: OriginId;
}

/** A move, names bound, SI, defaults filled: all that the motion engine reads. Plain data without places. */
export interface ResolvedMove {
  readonly title: string;
  readonly rig: ResolvedRig;
  readonly base: BasePlace;
  /** Value of each axis with role `setup`, by axis index; SI. */
  readonly setup: Readonly<Record<AxisIndex, number>>;
  /** Where the text states each of them. */
  readonly setupOrigins?: Readonly<Record<AxisIndex, OriginId>>;
  readonly optics: ResolvedOptics;
  readonly axes: readonly MoveAxis[];
  readonly targets: readonly ResolvedTarget[];
  readonly turntables: readonly ResolvedTurntable[];
  readonly obstacles: readonly Body[];
  readonly people: readonly Body[];
  /** What is but drawn: nothing is checked against it. Absent: none. */
  readonly dressing?: readonly Body[];
  /** A picture that is shown with the view through the lens. Absent: none. */
  readonly plate?: ResolvedPlate;
  /** Height of the floor [m]. */
  readonly floor: number;
  readonly marks: readonly { readonly name: string; readonly at: Vec3; readonly origin: OriginId }[];
  readonly rate: Rate;
  /** Frame number that the label of t = 0 shows. */
  readonly startFrame: number;
  /** Share of written speed that the move plays at; key times are already played time. Only for writing times back. */
  readonly speed: number;
  readonly keys: readonly ResolvedKey[];
  /** Wished values at the first instant, by axis index. */
  readonly near: Readonly<Record<AxisIndex, number>>;
  /** Direction that counts as up for a rig without a head. */
  readonly up: Vec3;
  /** Delivered crop, centred, captured px. */
  readonly deliver: readonly [number, number];
  readonly deliverOrigin: OriginId;
  /** Where the text states the size of the crop itself; 0 without one. */
  readonly cropOrigin?: OriginId;
  /** Share of the captured width and height that post takes to stabilise, half of it on each side. */
  readonly stabilise: number;
  readonly stabiliseOrigin?: OriginId;
  readonly tolerance: Tolerances;
  readonly toleranceOrigin: OriginId;
  readonly passes: readonly ResolvedPass[];
  readonly expectations?: readonly ResolvedExpectation[];
  /** Absent: the text says nothing of it. See `wayBack`. */
  readonly wayBack?: ResolvedWayBack;
  readonly uses: Uses;
  readonly origin: OriginId;
}
