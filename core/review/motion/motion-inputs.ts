import type { OriginId } from "../../base/origin-id.ts";
import type {
  ResolvedAim,
  ResolvedCameraPoint,
  ResolvedFocus,
  ResolvedKey,
  ResolvedMove,
  ResolvedPath,
} from "../../motion/resolved-move.ts";
import { RETURN_SHARE } from "../../motion/way-back.ts";

/** All that a motion is made from, as plain data without names, places in texts and limits: equal data, equal motion. */
export interface MotionInputs {
  /** Any other number in here is another motion, whether its trajectory shows it or not. */
  readonly values: unknown;
  /** Motions beside the take, of which its trajectory shows nothing: any difference counts. */
  readonly beside: unknown;
  /** What may be another and leave the motion as it is: the trajectories tell. */
  readonly settings: unknown;
}

/**
 * @param axisOf Where an axis stands in the order that both sides share; undefined for one that the other side lacks.
 */
export function motionInputs(move: ResolvedMove, axisOf: (axis: number) => number | undefined): MotionInputs {
  const { rig, optics, base, keys } = move;
  const ordered = (values: Readonly<Record<number, number>>): [string, number][] =>
    Object.entries(values)
      .map(([axis, value]): [string, number] => [`${axisOf(Number(axis)) ?? `own ${axis}`}`, value])
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  return {
    values: {
      joints: rig.joints.map(({ type, origin, along, follows }) => ({ type, origin, along, follows })),
      mount: rig.mount,
      lens: lensOf(optics),
      base,
      setup: ordered(move.setup),
      keys: keys.map((key) => keyOf(move, key, axisOf)),
    },
    beside: { passes: shiftsOf(move), wayBack: wayBackOf(move, axisOf) },
    settings: {
      head: rig.head,
      near: ordered(move.near),
      up: move.up,
      ranges: move.axes.map(({ range, role }) => ({ range, role })),
      written: keys.map(({ written }) => written),
    },
  };
}

/** Numbers of one node of a pupil's table, the place first. */
const NODE = 4;

/** How the lens sees, and where from. */
function lensOf(optics: ResolvedMove["optics"]): unknown {
  const { sensor, flange, focal, squeeze, distortion, centre, iris } = optics;
  // Slopes of the pupil's table come of its values.
  const { nodes, ...rows } = optics.pupil;
  const pupil = { ...rows, at: nodes.filter((_, idx) => idx % NODE === 0) };
  return { sensor, flange, focal, pupil, squeeze, distortion, centre, iris };
}

function keyOf(move: ResolvedMove, key: ResolvedKey, axisOf: (axis: number) => number | undefined): unknown {
  const { time, stop, hold, ease, blend, speed, axes, camera, aim, framing, focus, iris, zoom, roll, path } = key;
  const change = key.switch;
  return {
    time,
    stop,
    hold,
    ease,
    path: path && pathOf(move, path),
    blend: blend?.length,
    switch: change && { begin: change.begin, end: change.end, ease: change.ease },
    speed: speed?.share,
    axes: axes
      .map(({ axis, value }): [string, number] => [`${axisOf(axis) ?? `own ${axis}`}`, value])
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)),
    camera: camera && cameraOf(move, camera),
    aim: aim && aimOf(move, aim),
    framing,
    focus: focus && focusOf(move, focus),
    iris: iris?.value,
    zoom: zoom?.focal,
    roll: roll && bare(roll),
  };
}

/** Without the place in a text. */
function bare<T extends { readonly origin: OriginId }>({ origin: _, ...rest }: T): Omit<T, "origin"> {
  return rest;
}

/** A target by where it is over time, not by its name. */
function targetOf(move: ResolvedMove, index: number): unknown {
  const { at, on, follow } = move.targets[index];
  return { at, follow, on: on === undefined ? undefined : tableOf(move, on) };
}

function tableOf({ turntables }: ResolvedMove, index: number): unknown {
  const { at, along } = turntables[index];
  return { at, along };
}

function aimOf(move: ResolvedMove, aim: ResolvedAim): unknown {
  return aim.kind === "none" ? aim.kind : targetOf(move, aim.target);
}

function focusOf(move: ResolvedMove, focus: ResolvedFocus): unknown {
  return focus.kind === "distance" ? focus.distance : targetOf(move, focus.target);
}

function cameraOf(move: ResolvedMove, camera: ResolvedCameraPoint): unknown {
  if (camera.kind === "at") return { at: camera.at };
  const turned = camera.in === undefined ? undefined : tableOf(move, camera.in);
  return { from: targetOf(move, camera.from), offset: camera.offset, turned };
}

function pathOf(move: ResolvedMove, path: ResolvedPath): unknown {
  if (path.kind === "arc-about") return { kind: path.kind, about: targetOf(move, path.target), along: path.along };
  return bare(path);
}

/** How far targets that a pass shifts are off, each distinct way once, in an order of its own. */
function shiftsOf(move: ResolvedMove): unknown {
  const ways = move.passes.map(({ targets }) =>
    Object.entries(targets)
      .filter(([, shift]) => shift.some((by) => by !== 0))
      .map(([target, shift]) => ({ of: targetOf(move, Number(target)), shift }))
      .sort(byText),
  );
  const distinct = new Map(ways.filter((way) => way.length > 0).map((way) => [JSON.stringify(way), way]));
  return [...distinct.values()].sort(byText);
}

const byText = (a: unknown, b: unknown): number => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1);

function wayBackOf({ wayBack }: ResolvedMove, axisOf: (axis: number) => number | undefined): unknown {
  if (wayBack?.kind !== "direct") return wayBack ? bare(wayBack) : { kind: "reversed", share: RETURN_SHARE };
  const via = wayBack.via.map(({ at, axes }) => ({
    at,
    axes: axes.map(({ axis, value }): [string, number] => [`${axisOf(axis) ?? `own ${axis}`}`, value]).sort(),
  }));
  return { time: wayBack.time, via };
}
