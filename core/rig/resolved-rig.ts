import type { OriginId } from "../base/origin-id.ts";
import type { Pose } from "../base/pose.ts";
import type { Vec2, Vec3 } from "../base/vec3.ts";

/** Limits of one axis in SI: m or rad, per s, s^2, s^3. Absent means that none is given, never zero. */
export interface AxisLimits {
  readonly speed?: number;
  readonly accel?: number;
  readonly jerk?: number;
}

export interface RangeLimit {
  readonly low: number;
  readonly high: number;
}

/** Where the text states each limit of an axis; 0 where it does not. */
export interface AxisOrigins {
  readonly self: OriginId;
  readonly range: OriginId;
  readonly speed: OriginId;
  readonly accel: OriginId;
  readonly jerk: OriginId;
}

/** How well an axis comes back to a value. Absent means that it is not stated, never zero. */
export interface Repeat {
  /** Standard deviation of each pass [m or rad]. */
  readonly sigma?: number;
  /** Standard deviation of what a pass loses, as a share of the way travelled. */
  readonly slip?: number;
  /** Lost motion when the axis turns back [m or rad]. */
  readonly backlash?: number;
  readonly origin: OriginId;
}

/**
 * One link of the chain: T(link) = T(parent) · origin · J(q), J translating along or rotating about `along`.
 * The parent is the link before it, the base for the first.
 */
export interface ResolvedJoint {
  readonly name: string;
  readonly type: "linear" | "rotary" | "fixed";
  /** `driven` moves in the take, `setup` is set before it, `follows` is bound to another axis, `none` is a fixed link. */
  readonly role: "driven" | "setup" | "follows" | "none";
  readonly origin: Pose;
  /** Unit vector in the joint's own frame, after `origin`. */
  readonly along: Vec3;
  readonly range?: RangeLimit;
  /** The few values that a setup axis can take, ascending. */
  readonly positions?: readonly number[];
  readonly limits: AxisLimits;
  /** value = ratio · leader + offset, SI. */
  readonly follows?: { readonly leader: number; readonly ratio: number; readonly offset: number };
  readonly repeat?: Repeat;
  readonly origins: AxisOrigins;
}

/**
 * A solid; sizes are full, and all but a mesh are convex. Cylinder and capsule stand along z of their own frame; a capsule's
 * height includes its caps. `scale` of a mesh: metres for one unit along each of its axes, below 0 for a mirrored one.
 * `hull`: the corners of its hull in its own frame, (n, 3), scaled [m], all of it within `margin` of what lies between them;
 * absent for a mesh that can't be read or is but drawn.
 */
export type Solid =
  | { readonly shape: "box"; readonly size: Vec3 }
  | { readonly shape: "cylinder"; readonly radius: number; readonly height: number }
  | { readonly shape: "capsule"; readonly radius: number; readonly height: number }
  | { readonly shape: "sphere"; readonly radius: number }
  | {
      readonly shape: "mesh";
      readonly file: string;
      readonly scale: Vec3;
      readonly hull?: readonly number[];
      readonly margin?: number;
    };

/** A solid on a link (or the base: link -1), or standing in the set. `pose` places its centre, or a mesh's own origin. */
export interface Body {
  readonly name: string;
  readonly link: number;
  /** Index of the turntable that it stands on: `pose` is then in the table's frame. */
  readonly table?: number;
  readonly pose: Pose;
  readonly solid: Solid;
  /** What it is for where a link states both: `looks` is drawn and stops nothing, `clearance` is not drawn. Absent: both. */
  readonly only?: "looks" | "clearance";
  readonly origin: OriginId;
}

export interface PointMass {
  readonly name: string;
  readonly link: number;
  readonly at: Vec3;
  readonly mass: number;
  readonly origin: OriginId;
}

/** A mass on a link of the arm that balances it. */
export interface Counterweight {
  readonly link: number;
  readonly at: Vec3;
  readonly mass: number;
  /** What may be left unbalanced, as a share of the moment that is to be balanced. Absent: none is stated. */
  readonly tolerance?: number;
  readonly massOrigin: OriginId;
  readonly toleranceOrigin: OriginId;
}

/** Where wheels or feet stand: corners in the frame of the base, or of the link that rolls along on them. */
export interface Support {
  /** Joint index, -1 for the base. Nothing between the base and it tilts. */
  readonly link: number;
  /** Three or more, of which not all are on one line [m]. */
  readonly corners: readonly Vec2[];
  /** Share of the way from the middle to an edge that stays free. Absent: none is stated. */
  readonly margin?: number;
  readonly origin: OriginId;
  readonly marginOrigin: OriginId;
}

/** A serial rig, names bound, SI, defaults filled. Plain data: it can be sent to a worker or a webview as JSON. */
export interface ResolvedRig {
  readonly name: string;
  readonly joints: readonly ResolvedJoint[];
  /** Joint indices of the axes that aim. Absent: the last turning axes of the chain aim (see `core/rig/aim-axes.ts`). */
  readonly head?: { readonly pan: number; readonly tilt: number; readonly roll?: number };
  /** Centre of the lens-mount flange on the last link; x along the view, y left, z up. */
  readonly mount: Pose;
  readonly bodies: readonly Body[];
  /** Names of bodies that are built to touch. */
  readonly touching?: readonly (readonly [string, string])[];
  readonly masses: readonly PointMass[];
  readonly counterweight?: Counterweight;
  readonly support?: Support;
  readonly payload?: { readonly limit: number; readonly origin: OriginId };
  /** Energy [J], share of it that is used, and what is drawn at rest and by each axis on top [W]. */
  readonly power?: {
    readonly battery: number;
    readonly usable: number;
    readonly idle: number;
    readonly axes: Readonly<Record<string, number>>;
    /** Where the battery is stated. */
    readonly origin: OriginId;
  };
  readonly origin: OriginId;
}

/** Where the base stands: Trans(x, y, floor) · Rz(heading) · Ry(lean[1]) · Rx(lean[0]). Metres, radians. */
export interface BasePlace {
  readonly x: number;
  readonly y: number;
  readonly floor: number;
  readonly heading: number;
  readonly lean: Vec2;
}
