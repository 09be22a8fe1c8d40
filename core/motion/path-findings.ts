import type { Task } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import { createEvaluateRoom, createInstant, evaluate } from "./evaluate.ts";
import type { Knot } from "./keyed-curve.ts";
import type { PathLeg } from "./lay-paths.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import type { PathNote } from "./path-note.ts";
import { pathPlaceAt, reachPath } from "./reach-path.ts";
import { TOO_STEEP, WITHOUT_SOLUTION } from "./solved-path.ts";
import { valueAtTime } from "./follow-leg.ts";

/** Instants of a stretch without a solution at which it is asked what stops the rig. */
const ASKED = 3;
/** Axes that end this near [m or rad] to where the key has them are there. */
const THERE = 1e-6;
const TURN = 2 * Math.PI;

/** What a leg is told by: its spans as they were solved, none where no axis can place the pupil. */
export interface ToldLeg {
  readonly leg: PathLeg;
  readonly spans: readonly AimSpan[];
  readonly placing: readonly number[];
  /** Values of all axes where keys alone take them. */
  readonly valuesAt: (time: number) => ArrayLike<number>;
}

/** What there is to say of how a leg was followed: one note a stretch of time, in its order. */
export function* notesOfLeg(
  model: MoveModel,
  aims: readonly AimSpan[],
  keyed: readonly (readonly Knot[])[],
  told: ToldLeg,
): Task<PathNote[]> {
  const notes: PathNote[] = [];
  for (const { from, to } of unsolvedStretches(told))
    notes.push(...(yield* noteUnsolved(model, aims, keyed, told, from, to)));
  notes.push(...jumpNotes(model, told));
  // Where it was lost on the way, that it then ends elsewhere is the same fault.
  if (notes.length === 0) notes.push(...endNotes(model, told));
  return notes;
}

function unsolvedStretches({ leg, spans }: ToldLeg): { readonly from: number; readonly to: number }[] {
  if (spans.length === 0) return [{ from: leg.from, to: leg.to }];
  const stretches: { from: number; to: number }[] = [];
  for (const { path } of spans) {
    path?.state.forEach((state, i) => {
      if (state !== WITHOUT_SOLUTION) return;
      const last = stretches[stretches.length - 1];
      if (last && path.times[i] <= last.to) last.to = path.times[i + 1];
      else stretches.push({ from: path.times[i], to: path.times[i + 1] });
    });
  }
  return stretches;
}

/** The farthest that the rig stays off; where it could be anywhere on the stretch, it is the way of standing that does not fit. */
function* noteUnsolved(
  model: MoveModel,
  aims: readonly AimSpan[],
  keyed: readonly (readonly Knot[])[],
  told: ToldLeg,
  from: number,
  to: number,
): Task<PathNote[]> {
  const times = Array.from({ length: ASKED }, (_, i) => from + ((to - from) * (i + 0.5)) / ASKED);
  const { keys } = yield* reachPath(model, aims, keyed, times);
  // Without a claim of how near the rig gets, how near it was brought.
  const missed = keys.map((one, i) =>
    one.status === "converged" || one.distance !== undefined ? one : { ...one, ...missAt(model, times[i]) },
  );
  let worst = -1;
  missed.forEach(({ status, distance = 0 }, i) => {
    if (status === "converged") return;
    if (worst < 0 || (missed[worst].distance ?? 0) < distance) worst = i;
  });
  const key = keyOf(model, told.leg, times[Math.max(0, worst)]);
  if (worst < 0) return [jumpOver(told, key, from, to)];
  const { status, distance, nearest, stoppedBy = [] } = missed[worst];
  const where = { kind: "out-of-reach", key, from, to, worst: times[worst], status, stoppedBy } as const;
  return [{ ...where, ...(distance !== undefined && { distance }), ...(nearest && { nearest }) }];
}

/** Where the pupil is on a path at a time [m], and how far from where it is to be. */
function missAt(model: MoveModel, time: number): { readonly distance?: number; readonly nearest?: Vec3 } {
  const wanted = pathPlaceAt(model, time, "left");
  const instant = createInstant(model);
  evaluate(model, createEvaluateRoom(model), time, instant, "left");
  const [x, y, z] = instant.position;
  const distance = wanted ? Math.hypot(x - wanted[0], y - wanted[1], z - wanted[2]) : NaN;
  return Number.isFinite(distance) ? { distance, nearest: [x, y, z] } : {};
}

/** Key that the way leads to that `time` is on. */
function keyOf({ move }: MoveModel, leg: PathLeg, time: number): number {
  for (let key = leg.first + 1; key < leg.last; key++) if (time <= move.keys[key].time) return key;
  return leg.last;
}

function jumpNotes(model: MoveModel, told: ToldLeg): PathNote[] {
  return told.spans.flatMap(({ path }) => {
    if (!path) return [];
    return Array.from(path.state).flatMap((state, i): PathNote[] => {
      if (state !== TOO_STEEP) return [];
      const [from, to] = [path.times[i], path.times[i + 1]];
      const note = jumpOver(told, keyOf(model, told.leg, from), from, to);
      // A head that spins at its pole is told of as that.
      const spins =
        model.move.rig.head !== undefined && note.kind === "branch-change" && !told.placing.includes(note.axis);
      return spins ? [] : [note];
    });
  });
}

/** The axis that changes most over a stretch. */
function jumpOver({ spans }: ToldLeg, key: number, from: number, to: number): PathNote {
  let best = { axis: 0, left: 0, right: 0 };
  for (const { path, problem, start, end } of spans) {
    if (!path || to <= start || end <= from) continue;
    problem!.unknown.forEach((axis, u) => {
      const left = valueAtTime(path, u, Math.max(start, from));
      const right = valueAtTime(path, u, Math.min(end, to));
      if (Math.abs(best.right - best.left) < Math.abs(right - left)) best = { axis, left, right };
    });
  }
  return { kind: "branch-change", where: "within", key, from, to, ...best };
}

/** Axes that arrive otherwise than the key that ends the leg has them; a head may be whole turns from it. */
function endNotes({ move, keys }: MoveModel, { leg, spans, placing, valuesAt }: ToldLeg): PathNote[] {
  const { time } = move.keys[leg.last];
  const span = spans.find(({ start, end }) => start < time && time <= end);
  if (!span?.path || keys[leg.last].status !== "converged") return [];
  const wanted = valuesAt(time);
  let best: { readonly axis: number; readonly left: number; readonly right: number } | undefined;
  span.problem!.unknown.forEach((axis, u) => {
    const left = valueAtTime(span.path!, u, time);
    const turns =
      placing.includes(axis) || move.axes[axis].type !== "rotary" ? 0 : Math.round((left - wanted[axis]) / TURN);
    const right = wanted[axis] + turns * TURN;
    if (Math.abs(left - right) <= THERE) return;
    if (!best || Math.abs(best.left - best.right) < Math.abs(left - right)) best = { axis, left, right };
  });
  const before = move.keys[leg.last - 1].time;
  return best ? [{ kind: "branch-change", where: "at-end", key: leg.last, from: before, to: time, ...best }] : [];
}
