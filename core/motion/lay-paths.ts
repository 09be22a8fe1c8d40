import type { Vec3 } from "../base/vec3.ts";
import { leavesAt, layKnots, type KeyTiming } from "./key-timing.ts";
import type { Knot } from "./keyed-curve.ts";
import { jointOf, roundedJoint } from "./path-joint.ts";
import type { PathNote } from "./path-note.ts";
import type { PathPiece } from "./path-piece.ts";
import { restsAt, type PathRun } from "./path-runs.ts";
import { LEAST_WAY, pieceOf, straightWay, wayAbout, wayVia, type Way } from "./path-shape.ts";
import { valueAt, type Piecewise } from "./piecewise.ts";
import type { ResolvedKey } from "./resolved-move.ts";
import type { TargetCourse } from "./target-series.ts";

/** What laying paths reads of a move whose axes are laid already. */
export interface PathGround {
  readonly keys: readonly ResolvedKey[];
  readonly timing: KeyTiming;
  readonly targets: readonly TargetCourse[];
  /** Where the pupil is at each key of a run [m], by its position; others are not read. */
  readonly places: readonly Vec3[];
  /** Series of all tracks at a time, shape (tracks, ROOM), and places of targets [m] there. */
  readonly tracksAt: (time: number) => Float64Array;
  readonly targetAt: (target: number, time: number) => Vec3;
}

/** A time in which the pupil is on one piece. */
export interface PathStretch {
  readonly from: number;
  readonly to: number;
  readonly piece: number;
}

/** Part of a run between two rests: keys by position, and times [s]. */
export interface PathLeg {
  readonly first: number;
  readonly last: number;
  readonly from: number;
  readonly to: number;
}

export interface LaidPaths {
  readonly pieces: readonly PathPiece[];
  /** In order of time. */
  readonly stretches: readonly PathStretch[];
  readonly legs: readonly PathLeg[];
  /** Length travelled over time, all runs one after another [m]. */
  readonly travel: Piecewise;
  readonly notes: readonly PathNote[];
}

/** One way of a run on its stretch of u. */
interface Segment {
  /** Position of the key that it leads to. */
  readonly key: number;
  readonly way: Way;
  readonly start: number;
  readonly end: number;
  readonly piece: PathPiece;
}

/** What the camera does at an inner key of a run. */
interface Turn {
  readonly rests: boolean;
  /** Half the length of u that the rounding takes [m]; 0 for none. */
  readonly reach: number;
}

/** Lays all runs of a move along the length travelled and that along time. */
export function layPaths(ground: PathGround, runs: readonly PathRun[]): LaidPaths {
  const notes: PathNote[] = [];
  const knots: Knot[] = [];
  let travelled = 0;
  const laid = runs.map((run) => {
    const segments = segmentsOf(ground, run, travelled, notes);
    const turns = segments.slice(1).map((next, i) => turnOf(ground, segments[i], next, notes));
    knots.push(...travelKnots(ground.keys, run, segments, turns));
    travelled = segments[segments.length - 1].end;
    return { run, segments, turns };
  });
  const travel = layKnots(knots, ground.timing);
  const pieces: PathPiece[] = [];
  const stretches: PathStretch[] = [];
  const legs: PathLeg[] = [];
  for (const { run, segments, turns } of laid) {
    const put = (from: number, to: number, piece: PathPiece): void => {
      if (!(from < to)) return;
      if (pieces[pieces.length - 1] !== piece) pieces.push(piece);
      stretches.push({ from, to, piece: pieces.length - 1 });
    };
    putRun(ground, run, segments, turns, travel, put);
    legs.push(...legsOf(ground.keys, run, turns));
  }
  return { pieces, stretches, legs, travel, notes };
}

function segmentsOf(ground: PathGround, run: PathRun, travelled: number, notes: PathNote[]): Segment[] {
  const { keys, places } = ground;
  const segments: Segment[] = [];
  let start = travelled;
  for (let key = run.first + 1; key <= run.last; key++) {
    const before = segments[segments.length - 1];
    const left = leavesAt(keys[key - 1]);
    const from = before ? movedOn(ground, before, left) : places[key - 1];
    const way = wayOf(ground, key, from);
    const fault = way.fault ?? (way.length <= LEAST_WAY ? "no-length" : undefined);
    if (fault) notes.push({ kind: "no-arc", key, from: left, to: keys[key].time, fault });
    const size = LEAST_WAY < way.length ? way.length : 0;
    segments.push({ key, way, start, end: start + size, piece: pieceOf(way, start) });
    start += size;
  }
  return segments;
}

/** Where the pupil is when a key is left: a hold on a moving frame has gone along with it. */
function movedOn({ keys, places, targetAt }: PathGround, { key, way: { frame } }: Segment, left: number): Vec3 {
  const at = places[key];
  if (frame < 0 || left === keys[key].time) return at;
  const [before, after] = [targetAt(frame, keys[key].time), targetAt(frame, left)];
  return [at[0] + after[0] - before[0], at[1] + after[1] - before[1], at[2] + after[2] - before[2]];
}

function wayOf({ keys, places, targetAt }: PathGround, key: number, from: Vec3): Way {
  const { path, time } = keys[key];
  const to = places[key];
  if (path?.kind === "arc-via") return wayVia(from, path.via, to);
  if (path?.kind !== "arc-about") return straightWay(from, to);
  const { target, along } = path;
  const start = targetAt(target, leavesAt(keys[key - 1]));
  return wayAbout(from, to, { target, start, end: targetAt(target, time), along });
}

/** What is done where two ways meet, and what is to be said of it. */
function turnOf(ground: PathGround, before: Segment, after: Segment, notes: PathNote[]): Turn {
  const { keys, targets, tracksAt } = ground;
  const { key } = before;
  const { blend, time } = keys[key];
  const rests = restsAt(keys, key);
  if (before.start === before.end || after.start === after.end) return { rests: true, reach: 0 };
  const joint = jointOf(before.piece, after.piece, before.end, targets, tracksAt(leavesAt(keys[key])));
  const at = { key, from: time, to: time };
  if (joint.kind === "parting") {
    if (rests || !blend) notes.push({ kind: "corner", ...at, joint });
    return { rests: rests || !blend, reach: rests || !blend ? 0 : reachOf(blend.length, before, after) };
  }
  if (rests) return { rests, reach: 0 };
  if (joint.kind === "smooth") {
    if (blend && 0 < blend.length) notes.push({ kind: "idle-blend", ...at });
    return { rests: false, reach: 0 };
  }
  const reach = blend ? reachOf(blend.length, before, after) : 0;
  if (LEAST_WAY < reach) return { rests: false, reach };
  notes.push({ kind: "corner", ...at, joint });
  return { rests: true, reach: 0 };
}

/** Never more than half of either way, so that two roundings leave each other room. */
function reachOf(length: number, before: Segment, after: Segment): number {
  return Math.min(length, (before.end - before.start) / 2, (after.end - after.start) / 2);
}

function travelKnots(
  keys: readonly ResolvedKey[],
  run: PathRun,
  segments: readonly Segment[],
  turns: readonly Turn[],
): Knot[] {
  const first = { time: keys[run.first].time, value: segments[0].start, rest: true };
  return [
    first,
    ...segments.map(({ key, end }, i): Knot => {
      const { time, ease } = keys[key];
      const rest = i === segments.length - 1 || turns[i].rests;
      return { time, value: end, rest, ...(ease && { ease }) };
    }),
  ];
}

/** Puts the stretches of a run: a hold at its first key, each way between its roundings, holds where the way before ends. */
function putRun(
  { keys, places }: PathGround,
  run: PathRun,
  segments: readonly Segment[],
  turns: readonly Turn[],
  travel: Piecewise,
  put: (from: number, to: number, piece: PathPiece) => void,
): void {
  const begin = keys[run.first];
  if (begin.time < leavesAt(begin)) {
    put(begin.time, leavesAt(begin), pieceOf(straightWay(places[run.first], places[run.first]), segments[0].start));
  }
  let from = leavesAt(begin);
  segments.forEach((segment, i) => {
    const { key, piece, end } = segment;
    const next = segments[i + 1];
    const reach = next ? turns[i].reach : 0;
    if (!next) return put(from, keys[key].time, piece);
    if (reach === 0) {
      put(from, leavesAt(keys[key]), piece);
      from = leavesAt(keys[key]);
      return;
    }
    const leave = timeOf(travel, end - reach, leavesAt(keys[key - 1]), keys[key].time);
    const join = timeOf(travel, end + reach, keys[key].time, keys[next.key].time);
    put(from, leave, piece);
    put(leave, join, roundedJoint(piece, next.piece, end, reach));
    from = join;
  });
}

/** When so much is travelled, by bisection: `travel` does not fall between the two times. */
function timeOf(travel: Piecewise, length: number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (;;) {
    const middle = low + (high - low) / 2;
    if (!(low < middle && middle < high)) return high;
    if (valueAt(travel, middle) < length) low = middle;
    else high = middle;
  }
}

function legsOf(keys: readonly ResolvedKey[], run: PathRun, turns: readonly Turn[]): PathLeg[] {
  const legs: PathLeg[] = [];
  let first = run.first;
  for (let last = run.first + 1; last <= run.last; last++) {
    const inner = last < run.last;
    if (inner && !turns[last - run.first - 1].rests) continue;
    const from = first === run.first ? keys[first].time : leavesAt(keys[first]);
    legs.push({ first, last, from, to: inner ? leavesAt(keys[last]) : keys[last].time });
    first = last;
  }
  return legs;
}
