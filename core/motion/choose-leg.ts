import type { Task } from "../base/task.ts";
import { gripOf, placings } from "./choose-placing.ts";
import { followLeg, type Followed, type LegTask } from "./follow-leg.ts";
import type { Knot } from "./keyed-curve.ts";
import type { MoveModel } from "./move-model.ts";
import { placedSpans, type LegSpan } from "./path-leg.ts";

/** Choices that are followed to the end with the redundant axes on one set of curves. */
const MOST_TRIES = 12;
/** And where none has a solution everywhere, so that it can be said where not. */
const MOST_VAIN = 2;
/** Axes that end this near [m or rad] to where the key has them are there; so far beyond their travel they are within. */
const THERE = 1e-6;

/** Where a leg is followed: the curves of all axes, and the knots that they are laid through, by axis. */
export interface Ground {
  readonly model: MoveModel;
  readonly keyed: readonly (readonly Knot[])[];
}

export interface LegChoice {
  readonly keyed: Ground["keyed"];
  readonly followed: Followed;
  readonly placing: readonly number[];
}

/**
 * Follows a leg with the three axes that hold the place best, the others on their curves. Where that fails other threes
 * are tried, then all of them again with the redundant axes on the curves of `detour`. Always the same choice for the same
 * move; the best where none is without fault.
 *
 * @param axes   Axes that may place the pupil, in order; all together where there are three or fewer.
 * @param detour Another set of curves for the redundant axes; asked for only where it is needed.
 */
export function* chooseLeg(
  first: Ground,
  task: Omit<LegTask, "placing" | "keyed">,
  spans: readonly LegSpan[],
  axes: readonly number[],
  detour: () => Task<Ground | undefined>,
): Task<LegChoice | undefined> {
  let best: LegChoice | undefined;
  for (const way of [first, undefined]) {
    const ground = way ?? (3 < axes.length ? yield* detour() : undefined);
    if (!ground) break;
    const { model, keyed } = ground;
    const graded: { readonly placing: readonly number[]; readonly grip: number }[] = [];
    for (const placing of placings(axes)) {
      const placed = placedSpans(model, task.room, spans, placing);
      if (placed.some((span) => span.problem!.unknown.length === 0)) return undefined;
      const grip = axes.length <= 3 ? 0 : yield* gripOf(model, task.room, placed, task.valuesAt(placed[0].start));
      graded.push({ placing, grip });
    }
    graded.sort((a, b) => b.grip - a.grip);
    const held = graded.filter(({ grip }) => 0 <= grip);
    const tries = 0 < held.length ? held.slice(0, MOST_TRIES) : graded.slice(0, MOST_VAIN);
    for (const { placing } of tries) {
      const placed = placedSpans(model, task.room, spans, placing);
      const followed = yield* followLeg(model, { ...task, keyed, placing }, placed);
      if (!best || isBetter(followed, best.followed)) best = { followed, placing, keyed };
      if (isFaultless(followed)) return best;
      yield;
    }
  }
  return best;
}

const isFaultless = ({ unsolved, jumps, beyond, astray }: Followed): boolean =>
  unsolved === 0 && jumps === 0 && beyond <= THERE && astray <= THERE;

function isBetter(a: Followed, b: Followed): boolean {
  const faults = ({ unsolved, jumps, beyond, astray }: Followed): number[] => [
    unsolved,
    jumps,
    astray <= THERE ? 0 : 1,
    beyond,
    astray,
  ];
  const [one, other] = [faults(a), faults(b)];
  const differs = one.findIndex((value, i) => value !== other[i]);
  return 0 <= differs && one[differs] < other[differs];
}
