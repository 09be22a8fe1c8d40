import { SAME_TIME } from "./same-time.ts";
import type { Task } from "../base/task.ts";
import type { KeyTiming } from "./key-timing.ts";
import type { Knot } from "./keyed-curve.ts";
import { layAimCurves } from "./hand-over.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import { pieceAt } from "./piecewise.ts";
import { ROOM } from "./series.ts";
import type { SolveRoom } from "./solve-instant.ts";
import { solveSpan } from "./solve-span.ts";
import { TOO_STEEP, WITHOUT_SOLUTION, writePath } from "./solved-path.ts";
import { writeStill } from "./tracks.ts";

/** What following a leg with certain axes came to. */
export interface Followed {
  readonly model: MoveModel;
  readonly spans: readonly AimSpan[];
  /** Time without a solution [s], and instants at which the solution jumps. */
  readonly unsolved: number;
  readonly jumps: number;
  /** How far axes go beyond their travel [m and rad, summed]. */
  readonly beyond: number;
  /** How far the axes that place the pupil end from where the last key has them [m or rad]. */
  readonly astray: number;
}

export interface LegTask {
  readonly room: SolveRoom;
  readonly keyed: readonly (readonly Knot[])[];
  readonly timing: KeyTiming;
  /** Values of all axes where keys alone take them, by axis: at the keys of a run they are those of the leg too. */
  readonly valuesAt: (time: number) => ArrayLike<number>;
  /** When the leg is to be as its last key has it [s]. */
  readonly endTime: number;
  /** Axes that place the pupil. */
  readonly placing: readonly number[];
  /** How far each axis may go, by axis. */
  readonly low: ArrayLike<number>;
  readonly high: ArrayLike<number>;
}

/** Solves the spans of a leg one after another; a level horizon first, as the roll's own channel runs from it and into it. */
export function* followLeg(model: MoveModel, task: LegTask, spans: readonly AimSpan[]): Task<Followed> {
  const hasHead = model.move.rig.head !== undefined;
  const isLevel = (span: AimSpan): boolean => hasHead && span.problem?.level === true;
  const mixed = spans.some(isLevel) && !spans.every(isLevel);
  // They stand where spans without a path did, one for one.
  let laid: MoveModel = {
    ...model,
    spans: model.spans.map((old) => spans.find((one) => one.start === old.start) ?? old),
  };
  for (const level of mixed ? [true, false] : [undefined]) {
    for (const span of spans) {
      if (level !== undefined && isLevel(span) !== level) continue;
      writeStill(laid.tracks, task.room.series);
      span.path = yield* solveSpan(laid, task.room, span, startValues(laid, task, span), task.timing.recall);
    }
    const roll = spans.find(isLevel)?.problem;
    // The roll is the last of the axes that aim.
    if (level && roll) {
      const axis = roll.unknown[roll.unknown.length - task.placing.length - 1];
      laid = layAimCurves(laid, task.keyed, task.timing, [axis]);
    }
  }
  return { model: laid, spans, ...judged(task, spans) };
}

/** Values of the unknowns at the start of a span: where a span before it ends, else where keys alone have them. */
function startValues(model: MoveModel, task: LegTask, span: AimSpan): number[] {
  const before = model.spans.find((one) => one.path && one !== span && Math.abs(one.end - span.start) < SAME_TIME);
  const values = task.valuesAt(span.start);
  return span.problem!.unknown.map((axis) => {
    const u = before ? before.problem!.unknown.indexOf(axis) : -1;
    return before && 0 <= u ? endOf(before, u) : values[axis];
  });
}

function endOf({ path }: AimSpan, u: number): number {
  const ends = path!.ends[u];
  return ends[ends.length - ROOM];
}

function judged(task: LegTask, spans: readonly AimSpan[]): Pick<Followed, "unsolved" | "jumps" | "beyond" | "astray"> {
  let [unsolved, jumps, astray] = [0, 0, 0];
  const farthest = new Map<number, number>();
  for (const { path, problem, start, end } of spans) {
    if (!path) continue;
    path.state.forEach((state, i) => {
      if (state === WITHOUT_SOLUTION) unsolved += path.times[i + 1] - path.times[i];
      if (state === TOO_STEEP) jumps += 1;
    });
    problem!.unknown.forEach((axis, u) => {
      let most = farthest.get(axis) ?? 0;
      for (let i = 0; i < path.ends[u].length; i += ROOM) {
        const value = path.ends[u][i];
        most = Math.max(most, task.low[axis] - value, value - task.high[axis]);
      }
      farthest.set(axis, most);
    });
    if (task.endTime <= start || end < task.endTime) continue;
    const wanted = task.valuesAt(task.endTime);
    for (const axis of task.placing) {
      astray = Math.max(
        astray,
        Math.abs(valueAtTime(path, problem!.unknown.indexOf(axis), task.endTime) - wanted[axis]),
      );
    }
  }
  const beyond = [...farthest.values()].reduce((sum, value) => sum + value, 0);
  return { unsolved, jumps, beyond, astray };
}

/** Value of one unknown of a solved path at a time within it. */
export function valueAtTime(path: NonNullable<AimSpan["path"]>, u: number, t: number): number {
  const out = new Float64Array(ROOM);
  writePath(path, u, pieceAt(path.times, t, "left"), t, 0, out, 0);
  return out[0];
}
