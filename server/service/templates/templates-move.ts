import type { Vec3 } from "../../../core/base/vec3.ts";
import type { MoveAxis, ResolvedMove, ResolvedTarget } from "../../../core/motion/resolved-move.ts";
import { aimAxes } from "../../../core/rig/aim-axes.ts";
import { compileRig, createPoseBuffer, fillFollowers, forward, ownFrame } from "../../../core/rig/chain.ts";
import { fields, type Field, type Fields, type Part } from "./templates-text.ts";

/** Documents that a new move uses, as it writes them. */
export interface MoveParts {
  readonly title: string;
  readonly rig: string;
  readonly camera: string;
  readonly lens: string;
  readonly set?: string;
}

/** Distances from the camera to what it aims at that are tried [m]. */
const DISTANCES = [1.6, 2.4, 1.1, 3.5];
/** Where in its range each axis stands in the middle of the move, as shares that are tried. */
const POSES = [0.5, 0.35, 0.65, 0.2, 0.8];
/** Shares of the first way that are tried, and how many moves with an aim are tried for each. */
const WAYS = [
  { way: 1, most: 20 },
  { way: 0.3, most: 8 },
  { way: 0, most: 4 },
];
const TARGETS_CAP = 2;
/** Share of each limit that the moving axis takes. */
const EASY = 0.4;
const TIME_FLOOR = 4;
const TIME_CAP = 20;

/** How a move goes from rest to rest with least jerk: highest speed, acceleration and jerk over a way of 1 in a time of 1. */
const SPEED_PEAK = 15 / 8;
const ACCEL_PEAK = 10 / Math.sqrt(3);
const JERK_PEAK = 60;

/** A move that names its documents and nothing else: what it resolves to tells the axes, the targets and the lens. */
export function bareMove(parts: MoveParts): Fields {
  return fields(...head(parts), ["keys", [fields(["at", "0 s"]), fields(["at", "4 s"])]]);
}

/**
 * Moves to try, the ones that a person would like best first: the first that analyses without errors is the template. One
 * axis goes a short way, the aim is held on a target; without a target in view every axis is keyed.
 *
 * @param move What `bareMove` of the same parts resolved to.
 */
export function moveCandidates(parts: MoveParts, move: ResolvedMove): readonly Fields[] {
  const targets = move.targets.slice(0, TARGETS_CAP);
  const distances = DISTANCES.filter((distance) => distance >= 1.2 * move.optics.closeFocus);
  const aimed = (way: number): readonly Fields[] =>
    targets.flatMap((target) =>
      posesByHeight(move, target).flatMap((pose) =>
        distances.map((distance) => candidate(parts, move, { target, pose, distance, way })),
      ),
    );
  return [
    ...WAYS.flatMap(({ way, most }) => aimed(way).slice(0, most)),
    ...WAYS.flatMap(({ way }) =>
      POSES.map((pose) => candidate(parts, move, { target: undefined, pose, distance: 0, way })),
    ),
  ];
}

interface Choice {
  readonly target: ResolvedTarget | undefined;
  readonly pose: number;
  readonly distance: number;
  readonly way: number;
}

function candidate(parts: MoveParts, move: ResolvedMove, { target, pose, distance, way }: Choice): Fields {
  const aims = target ? aimAxes(move.rig) : [];
  const keyed = move.axes.filter(
    ({ joint, role }) => role === "turntable" || (role === "driven" && !aims.includes(joint)),
  );
  const middle = (axis: MoveAxis): number => restAt(axis, pose);
  const mover = keyed.find(({ role }) => role === "driven");
  const { reach, time } = mover ? easyWay(mover, middle(mover), way) : { reach: 0, time: TIME_FLOOR };
  const at = (side: number, axis: MoveAxis): number => middle(axis) + (axis === mover ? (side * reach) / 2 : 0);
  const values = (axes: readonly MoveAxis[], side: number): Fields =>
    fields(...axes.map((axis) => [axis.name, shown(axis, at(side, axis))] as const));
  const setup = move.axes.filter(({ role }) => role === "setup");
  const aim: Field[] = target
    ? [
        { name: "aim", value: target.name },
        { name: "focus", value: target.name },
      ]
    : [];
  return fields(
    ...head(parts),
    ...(target ? [placeField(move, target, pose, distance)] : []),
    ...(setup.length > 0 ? [["setup", values(setup, 0)] as const] : []),
    {
      name: "keys",
      value: [
        fields(["at", "0 s"], ["name", "start"], { name: "axes", value: values(keyed, -1), first: true }, ...aim),
        fields(["at", `${time} s`], ["name", "end"], ["axes", values(mover && way > 0 ? [mover] : keyed, 1)]),
      ],
    },
  );
}

function head({ title, rig, camera, lens, set }: MoveParts): (readonly [string, Part])[] {
  return [
    ["move", 1],
    ["title", title],
    ["rig", rig],
    ["camera", fields(["use", camera], ["lens", lens])],
    ...(set === undefined ? [] : [["set", set] as const]),
    ["rate", 25],
  ];
}

/** Value of an axis where it rests in the middle of the move; SI. */
function restAt({ role, range, positions }: MoveAxis, pose: number): number {
  if (positions && positions.length > 0)
    return positions[Math.min(positions.length - 1, Math.floor(pose * positions.length))];
  if (role === "turntable" || !range) return range ? Math.min(range.high, Math.max(range.low, 0)) : 0;
  const low = Math.max(range.low, -10);
  return low + pose * (Math.min(range.high, 10) - low);
}

/** A way that an axis goes within its range and well within its limits, and the time for it in whole seconds. */
function easyWay(
  { type, range, limits }: MoveAxis,
  middle: number,
  share: number,
): { readonly reach: number; readonly time: number } {
  const room = range ? 2 * Math.min(range.high - middle, middle - range.low) : Infinity;
  const most = type === "linear" ? 0.4 : Math.PI / 9;
  const wanted = share * Math.max(0, Math.min(most, 0.6 * room));
  const { speed = Infinity, accel = Infinity, jerk = Infinity } = limits;
  const inTime = (time: number): number =>
    Math.min(
      (EASY * speed * time) / SPEED_PEAK,
      (EASY * accel * time ** 2) / ACCEL_PEAK,
      (EASY * jerk * time ** 3) / JERK_PEAK,
    );
  let time = TIME_FLOOR;
  while (time < TIME_CAP && inTime(time) < wanted) time += 1;
  return { reach: Math.min(wanted, inTime(time)), time };
}

/** Camera's place and view over the base for a pose, the aiming axes nearest to 0. */
function viewFrom(move: ResolvedMove, pose: number): { readonly at: Vec3; readonly along: Vec3 } {
  const chain = compileRig(move.rig);
  const aims = aimAxes(move.rig);
  const q = new Float64Array(chain.count);
  for (const axis of move.axes) {
    if (axis.joint < 0) continue;
    const { range } = axis;
    const near = range ? Math.min(range.high, Math.max(range.low, 0)) : 0;
    q[axis.joint] = aims.includes(axis.joint) ? near : restAt(axis, pose);
  }
  fillFollowers(chain, q);
  const out = createPoseBuffer(chain);
  forward(chain, ownFrame(), q, out);
  const [x, y, z] = out.mountPosition;
  return { at: [x, y, z], along: [out.mountRotation[0], out.mountRotation[3], out.mountRotation[6]] };
}

/** Poses whose camera is about as high as the target, or a little higher, first. */
function posesByHeight(move: ResolvedMove, target: ResolvedTarget): readonly number[] {
  const wanted = placeOfTarget(move, target)[2] + 0.2;
  const off = (pose: number): number => Math.abs(viewFrom(move, pose).at[2] + move.floor - wanted);
  return [...POSES].sort((one, other) => off(one) - off(other));
}

/** Where a target stands while every turntable is at 0. */
function placeOfTarget({ turntables }: ResolvedMove, { at, on }: ResolvedTarget): Vec3 {
  const table = on === undefined ? undefined : turntables[on];
  return table ? [at[0] + table.at[0], at[1] + table.at[1], at[2] + table.at[2]] : at;
}

/** The base where the camera looks into the set, at the target from so far in front of it. */
function placeField(move: ResolvedMove, target: ResolvedTarget, pose: number, distance: number): Field {
  const { at, along } = viewFrom(move, pose);
  const heading = Math.hypot(along[0], along[1]) > 0.2 ? -Math.atan2(along[1], along[0]) : 0;
  const [cos, sin] = [Math.cos(heading), Math.sin(heading)];
  const [x, y] = placeOfTarget(move, target);
  const base = [x - distance - (cos * at[0] - sin * at[1]), y - (sin * at[0] + cos * at[1])];
  const value = fields(
    ["at", base.map((each) => rounded(each, 2))],
    ["heading", rounded((heading * 180) / Math.PI, 1)],
  );
  return { name: "place", value, comment: "where the base stands, and which way it is turned" };
}

/** In metres or degrees, as bare numbers are. */
function shown({ type, positions }: MoveAxis, value: number): number {
  // One of a few positions is written as it is.
  const digits = positions ? 6 : type === "rotary" ? 1 : 3;
  return rounded(type === "rotary" ? (value * 180) / Math.PI : value, digits);
}

function rounded(value: number, digits: number): number {
  const out = Number(value.toFixed(digits));
  return out === 0 ? 0 : out;
}
