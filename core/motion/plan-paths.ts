import type { Task } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import { aimAxes } from "../rig/aim-axes.ts";
import { compileRig } from "../rig/chain.ts";
import { travel } from "../rig/travel.ts";
import { pointOf } from "./camera-keys.ts";
import { chooseLeg, type Ground } from "./choose-leg.ts";
import { createEvaluateRoom, createInstant, evaluate } from "./evaluate.ts";
import { layAimCurves } from "./hand-over.ts";
import { knotAt, layKnots, leavesAt, type KeyTiming } from "./key-timing.ts";
import type { Knot } from "./keyed-curve.ts";
import { layPaths, type LaidPaths, type PathGround, type PathLeg } from "./lay-paths.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import { notesOfLeg, type ToldLeg } from "./path-findings.ts";
import { spansBeside, spansOfLeg, type LegSpan } from "./path-leg.ts";
import { isOnPath, type PathRun } from "./path-runs.ts";
import { planAims } from "./plan-aims.ts";
import { reachPath } from "./reach-path.ts";
import { createSolveRoom } from "./solve-instant.ts";
import { intervalAt, layTracks } from "./tracks.ts";
import { withCurves } from "./with-tracks.ts";

/** What planning without paths began with. */
export interface PathTask {
  readonly runs: readonly PathRun[];
  readonly keyed: readonly (readonly Knot[])[];
  readonly timing: KeyTiming;
  readonly moments: readonly AimSpan[];
}

/**
 * Puts the camera on its paths.
 *
 * @param plain The same move planned with all axes going from key to key by themselves: at the keys of a run it says where
 *              the pupil is and how the axes stand. `plain.move` has the paths.
 */
export function* planPaths(plain: MoveModel, { runs, keyed: given, timing, moments }: PathTask): Task<MoveModel> {
  const look = lookerAt(plain);
  const laid = layPaths(groundOf(plain, timing, runs), runs);
  const places = laid.legs.map((leg) => placingAxes(plain, spansOfLeg(plain.spans, leg)));
  const placing = new Set(places.flat());
  let keyed: Ground["keyed"] = runKnots(plain, given, runs, laid.legs, placing, look);
  let model = groundModel(plain, laid, keyed, timing, placing);
  const room = createSolveRoom(model);
  const limits = axisTravel(plain);
  const solved = new Set<number>();
  const told: ToldLeg[] = [];
  for (const [i, leg] of laid.legs.entries()) {
    const spans = spansOfLeg(plain.spans, leg);
    const ground = { model, keyed };
    const detour = (): Task<Ground | undefined> => detourOf(ground, plain.spans, timing, leg, places[i]);
    const task = { room, timing, valuesAt: look, endTime: plain.move.keys[leg.last].time, ...limits };
    const choice = yield* chooseLeg(ground, task, spans, places[i], detour);
    if (choice) {
      keyed = choice.keyed;
      for (const axis of choice.placing) solved.add(axis);
      model = layAimCurves(choice.followed.model, keyed, timing, [...solved]);
    }
    told.push({ leg, spans: choice?.followed.spans ?? [], placing: choice?.placing ?? [], valuesAt: look });
    yield;
  }
  const notes = [...laid.notes];
  for (const one of told) notes.push(...(yield* notesOfLeg(model, plain.spans, keyed, one)));
  notes.sort((a, b) => a.from - b.from || a.key - b.key);
  const sources = model.sources.map((source, axis) => (solved.has(axis) ? "solved" : source));
  const aimed = yield* planAims(model, keyed, timing, moments);
  return { ...aimed, sources, pathNotes: notes };
}

/** Values of all axes at a time as keys alone have them. */
type Look = (time: number) => Float64Array;

function lookerAt(plain: MoveModel): Look {
  const room = createEvaluateRoom(plain);
  const instant = createInstant(plain);
  return (time) => {
    evaluate(plain, room, time, instant, time < plain.duration ? "right" : "left");
    return Float64Array.from(instant.value);
  };
}

function groundOf(plain: MoveModel, timing: KeyTiming, runs: readonly PathRun[]): PathGround {
  const { move, targets } = plain;
  const room = createEvaluateRoom(plain);
  const instant = createInstant(plain);
  const at = (time: number): void => evaluate(plain, room, time, instant, time < plain.duration ? "right" : "left");
  const places = move.keys.map(({ camera, time }, key): Vec3 => {
    if (!isOnPath(runs, key)) return [0, 0, 0];
    at(time);
    const [x, y, z] = instant.position;
    // A path to a place out of reach leads as near as the rig gets: what is wrong is told at the key.
    const reached = plain.keys[key].status === "converged";
    return camera && reached ? pointOf(plain, camera, room.solve.series) : [x, y, z];
  });
  return {
    keys: move.keys,
    timing,
    targets,
    places,
    tracksAt: (time) => {
      at(time);
      return Float64Array.from(room.solve.series);
    },
    targetAt: (target, time) => {
      at(time);
      const [x, y, z] = instant.targets.subarray(3 * target, 3 * target + 3);
      return [x, y, z];
    },
  };
}

/**
 * Axes that may place the pupil in a leg: all driven ones that the take moves but the head's, whether or not it aims there. A
 * rig without a head whose other axes are too few for a place takes those too that would aim, while nothing is aimed at.
 */
function placingAxes({ move, descent }: MoveModel, spans: readonly LegSpan[]): number[] {
  const driven = move.axes.flatMap((_, axis) => (descent.axis.includes(axis) ? [axis] : []));
  const heading = aimAxes(move.rig);
  const others = driven.filter((axis) => !heading.includes(move.axes[axis].joint));
  const aims = move.rig.head !== undefined || spans.some(({ aim }) => aim !== undefined);
  return aims || 3 <= others.length ? others : driven;
}

/** Knots of all axes; those that place the pupil have one at every key of a run, and rest where a leg ends. */
function runKnots(
  { move }: MoveModel,
  given: readonly (readonly Knot[])[],
  runs: readonly PathRun[],
  legs: readonly PathLeg[],
  placing: ReadonlySet<number>,
  look: Look,
): Knot[][] {
  const rests = new Set(legs.flatMap(({ first, last }) => [first, last]));
  const known = move.keys.map((key, i) => (isOnPath(runs, i) ? look(key.time) : undefined));
  return given.map((knots, axis) => {
    if (!placing.has(axis)) return [...knots];
    const own = move.keys.flatMap((key, i): Knot[] => {
      const values = known[i];
      if (!values) return [];
      const knot = knotAt(key, values[axis]);
      return [rests.has(i) ? { ...knot, rest: true } : knot];
    });
    const others = knots.filter(({ time }) => !own.some((knot) => knot.time === time));
    return [...others, ...own].sort((a, b) => a.time - b.time);
  });
}

/** The model before its legs are solved: the paths laid, the axes that may follow them on their curves. */
function groundModel(
  plain: MoveModel,
  laid: LaidPaths,
  keyed: readonly (readonly Knot[])[],
  timing: KeyTiming,
  placing: ReadonlySet<number>,
): MoveModel {
  const curves = plain.tracks.curves.map((curve, axis) => (placing.has(axis) ? layKnots(keyed[axis], timing) : curve));
  const tracks = layTracks([...curves, laid.travel], plain.duration, [
    ...plain.tracks.knots,
    ...[...laid.legs, ...laid.stretches].flatMap(({ from, to }) => [from, to]),
  ]);
  const bare = laid.legs.flatMap((leg) => spansOfLeg(plain.spans, leg).map(({ span }) => span));
  const spans = [...spansBeside(plain.spans, laid.legs), ...bare].sort((a, b) => a.start - b.start);
  const middles = Array.from(
    { length: tracks.knots.length - 1 },
    (_, i) => (tracks.knots[i] + tracks.knots[i + 1]) / 2,
  );
  const again = (table: Int32Array): Int32Array =>
    Int32Array.from(middles, (middle) => table[intervalAt(plain.tracks, middle, "right")]);
  return {
    ...plain,
    tracks,
    spans,
    spanOf: Int32Array.from(middles, (middle) => spans.findIndex(({ end }) => middle <= end)),
    focusOf: again(plain.focusOf),
    pathPieces: laid.pieces,
    travel: curves.length,
    pathOf: Int32Array.from(middles, (middle) => {
      return laid.stretches.find(({ from, to }) => from <= middle && middle <= to)?.piece ?? -1;
    }),
  };
}

/** How far each axis may go, followers counted, by axis. */
function axisTravel({ move }: MoveModel): { readonly low: number[]; readonly high: number[] } {
  const { low, high } = travel(compileRig(move.rig));
  return {
    low: move.axes.map(({ joint }) => (0 <= joint ? low[joint] : -Infinity)),
    high: move.axes.map(({ joint }) => (0 <= joint ? high[joint] : Infinity)),
  };
}

/** The ground with the axes led through a solution at the middle of each way of a leg; nothing where there is none. */
function* detourOf(
  ground: Ground,
  aims: readonly AimSpan[],
  timing: KeyTiming,
  leg: PathLeg,
  axes: readonly number[],
): Task<Ground | undefined> {
  const { keys } = ground.model.move;
  const times = keys.slice(leg.first, leg.last).map((key, i) => (leavesAt(key) + keys[leg.first + i + 1].time) / 2);
  const reached = yield* reachPath(ground.model, aims, ground.keyed, times);
  if (reached.keys.some(({ status }) => status !== "converged")) return undefined;
  const keyed = ground.keyed.map((knots, axis) =>
    axes.includes(axis) ? [...knots, ...reached.knots[axis]].sort((a, b) => a.time - b.time) : knots,
  );
  const curves = ground.model.tracks.curves.map((curve, axis) =>
    axes.includes(axis) ? layKnots(keyed[axis], timing) : curve,
  );
  return { model: withCurves(ground.model, curves), keyed };
}
