import type { Dimension } from "../../base/dimension.ts";
import type { Task } from "../../base/task.ts";
import { checkContext } from "../../checks/check-context.ts";
import type { CheckContext } from "../../checks/check.ts";
import { leastClearance } from "../../checks/expect/least-clearance.ts";
import { lastPassError } from "../../checks/passes/last-pass.ts";
import type { SameThings } from "../match-names.ts";
import type { Amount, Effects, Sides } from "../review.ts";
import type { ReviewSide } from "../review-side.ts";
import { axisEffects } from "./axis-effects.ts";
import { differencesOf } from "./differences.ts";

/** What becomes of the motion as a whole; of a move that one side lacks, what there is of the other. */
export function* effectsOf(sides: Sides<ReviewSide>, same: SameThings): Task<Effects> {
  const before = sides.before?.analysis.trajectory;
  const after = sides.after?.analysis.trajectory;
  const differences = before && after ? yield* differencesOf(before, after, same) : undefined;
  const clearance = yield* amountOf(sides, "length", clearanceOf);
  const passError = yield* amountOf(sides, "pixels", passErrorOf);
  const framing = same.targets.flatMap(([, b], idx) => {
    const largest = differences?.framing[idx];
    return largest && after ? [{ target: after.move.targets[b].name, largest }] : [];
  });
  return {
    duration: amount({ before: before?.duration, after: after?.duration }, "time"),
    axes: axisEffects({ before, after }, same, differences?.axes ?? []),
    ...(differences ? { path: differences.path } : {}),
    framing,
    ...(differences?.focus ? { focus: differences.focus } : {}),
    ...(clearance ? { clearance } : {}),
    ...(passError ? { passError } : {}),
  };
}

function amount({ before, after }: Sides<number | undefined>, dimension: Dimension): Amount {
  return { ...(before === undefined ? {} : { before }), ...(after === undefined ? {} : { after }), dimension };
}

/** A number of each side that has one; `undefined` where none has. */
function* amountOf(
  { before, after }: Sides<ReviewSide>,
  dimension: Dimension,
  of: (context: CheckContext) => Task<number | undefined>,
): Task<Amount | undefined> {
  const was = before && (yield* ofSide(before, of));
  const is = after && (yield* ofSide(after, of));
  return was === undefined && is === undefined ? undefined : amount({ before: was, after: is }, dimension);
}

function* ofSide(
  { analysis: { trajectory }, seen }: ReviewSide,
  of: (context: CheckContext) => Task<number | undefined>,
): Task<number | undefined> {
  return trajectory && (yield* of(checkContext(trajectory, seen)));
}

/** Looked for once a trajectory: of a base that many changes are compared with it stays the same. */
function* clearanceOf(context: CheckContext): Task<number | undefined> {
  const { trajectory, seen } = context;
  const known = seen.table<number>("least clearance");
  let least = known.get(trajectory);
  if (least === undefined) {
    const { low } = yield* leastClearance.extremes(context, { subject: -1, from: 0, to: trajectory.duration });
    least = low.value;
    known.set(trajectory, least);
  }
  return Number.isFinite(least) ? least : undefined;
}

function* passErrorOf(context: CheckContext): Task<number | undefined> {
  return (yield* lastPassError(context))?.p95;
}
