import { cross, dot, normalise, scale, subtract, type Vec3 } from "../../../core/base/vec3.ts";
import type { MoveAxis } from "../../../core/motion/resolved-move.ts";
import type { OpenTake } from "../../take/open-take.ts";
import { readFactor } from "../../take/reading.ts";

/** Of the rig's size: radius of an arc, and its bounds [m]. */
const RADIUS_SHARE = 0.1;
const RADIUS = [0.06, 0.45] as const;
/** Of its radius, by how much an arc about the same place as the one before is smaller. */
const NEXT_RADIUS = 0.72;
/** Of the radius: by how much a range of more than this many rad opens out for a whole turn, so that its ends lie apart. */
const OPENING = 0.22;
const NEARLY_ROUND = (345 / 180) * Math.PI;
/** A line of an axis that slides without a range goes so far on both sides of its value, of the rig's size. */
const OPEN_RAIL = 0.15;
const STEP = Math.PI / 36;
/** Ticks and end marks, of the radius. */
export const END = 0.16;

/** The kinds of line that ranges are told apart by. */
export const RANGE_KINDS = ["driven", "setup", "follows", "turntable", "open"] as const;
export type RangeKind = (typeof RANGE_KINDS)[number];

/**
 * The range of one axis as lines in the frame of its joint before it moves (the set's for a turntable): an arc about the
 * axis or a rail along it.
 */
export interface RangeShape {
  readonly axis: number;
  readonly type: MoveAxis["type"];
  readonly kind: RangeKind;
  /** Unit vectors: along the axis, towards its value 0 and a quarter turn on. */
  readonly along: Vec3;
  readonly zero: Vec3;
  readonly quarter: Vec3;
  /** Of the arc, or half the length of a rail's marks [m]. */
  readonly radius: number;
  /** Ends of what is drawn, SI; of an axis without a range those of a whole turn. */
  readonly low: number;
  readonly high: number;
  readonly hasRange: boolean;
  /** Marks on the way: the few values that a set-up axis can take. */
  readonly positions: readonly number[];
}

/** The ranges of all axes of a take, in their order; axes that are fixed in the rig have none. */
export function rangeShapes(open: OpenTake): RangeShape[] {
  const { stage } = open;
  const { joints, mount } = stage.rig;
  const size = sizeOf(stage.rig);
  const most = Math.min(Math.max(RADIUS[0], RADIUS_SHARE * size), RADIUS[1]);
  let radius = most;
  return stage.axes.map((axis, index): RangeShape => {
    const joint = joints[axis.joint];
    const along = joint?.along ?? stage.turntables[axis.turntable].along;
    // What a joint carries begins at the next one: there its value 0 points.
    const next = axis.joint + 1 < joints.length ? joints[axis.joint + 1].origin.at : mount.at;
    if (joint && axis.type === "rotary") {
      const before = index > 0 && stage.axes[index - 1].type === "rotary" && stage.axes[index - 1].joint >= 0;
      radius = before && Math.hypot(...joint.origin.at) < radius ? radius * NEXT_RADIUS : most;
    }
    const zero = joint ? square(along, next) : square(along, [1, 0, 0]);
    const { range } = axis;
    const reach = axis.type === "rotary" ? Math.PI : OPEN_RAIL * Math.max(size, 1);
    return {
      axis: index,
      type: axis.type,
      kind: range ? axis.role : "open",
      along,
      zero,
      quarter: cross(along, zero),
      radius: axis.type === "rotary" ? (joint ? radius : most) : most / 3,
      low: range?.low ?? -reach,
      high: range?.high ?? reach,
      hasRange: range !== undefined,
      positions: axis.positions ?? [],
    };
  });
}

/** How long the chain is with what slides in it drawn out, but for what carries the whole rig along [m]. */
function sizeOf({ joints, mount }: OpenTake["stage"]["rig"]): number {
  const slides = joints
    .slice(1)
    .map(({ type, range }) => (type === "linear" && range ? Math.max(-range.low, range.high, 0) : 0));
  return [...joints.map(({ origin }) => Math.hypot(...origin.at)), ...slides, Math.hypot(...mount.at)].reduce(
    (a, b) => a + b,
  );
}

/** The direction square to `along` that is nearest to `wanted`, or one of the frame's own where that is along it. */
function square(along: Vec3, wanted: Vec3): Vec3 {
  for (const one of [wanted, [1, 0, 0], [0, 1, 0]] as const) {
    const off = subtract(one, scale(along, dot(one, along)));
    const unit = Math.hypot(...off) > 0.02 ? normalise(off) : undefined;
    if (unit) return unit;
  }
  return normalise(cross(along, [0, 0, 1])) ?? [0, 1, 0];
}

/** Radius of an arc where the axis has a value [m]: one of more than a turn is a spiral. */
export function radiusAt({ radius, low, high, hasRange }: RangeShape, value: number): number {
  if (!hasRange || high - low < NEARLY_ROUND) return radius;
  return radius * (1 + (OPENING * (value - low)) / (2 * Math.PI));
}

/**
 * Where a value of the axis is drawn, in the frame of `RangeShape`.
 *
 * @param off Across the line, outwards of an arc and towards `zero` of a rail [m].
 * @param out Receives the place, shape (3,) [m].
 */
export function placeOnRange(shape: RangeShape, value: number, off: number, out: Float64Array): void {
  const { along, zero, quarter } = shape;
  if (shape.type === "linear") {
    for (let k = 0; k < 3; k++) out[k] = along[k] * value + zero[k] * off;
    return;
  }
  const radius = radiusAt(shape, value) + off;
  const [c, s] = [radius * Math.cos(value), radius * Math.sin(value)];
  for (let k = 0; k < 3; k++) out[k] = zero[k] * c + quarter[k] * s;
}

/** Values between which the line is drawn straight. */
export function stepsOf({ type, low, high }: RangeShape): number {
  return type === "linear" ? 1 : Math.min(400, Math.max(1, Math.ceil((high - low) / STEP)));
}

/** `-170°`, `1.25 m`: short, in the unit that people read. */
export function endWords(type: MoveAxis["type"], value: number): string {
  const number = Number((value * readFactor(type)).toFixed(type === "linear" ? 3 : 1));
  return type === "linear" ? `${number} m` : `${number}°`;
}
