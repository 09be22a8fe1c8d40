import { sameData } from "../../../core/base/same-data.ts";
import type { Task } from "../../../core/base/task.ts";
import { passVariant } from "../../../core/motion/pass-variant.ts";
import { planTrajectory } from "../../../core/motion/plan.ts";
import type { ResolvedPass } from "../../../core/motion/resolved-move.ts";
import { sampleTake } from "../../../core/motion/sample.ts";
import { passErrors, passNumbers } from "../../../core/repeat/pass-errors.ts";
import { packTable } from "../../../protocol/codec.ts";
import type { PackedNumbers } from "../../../protocol/stage.ts";
import type { StagePass, StagePasses } from "../../../protocol/stage-passes.ts";
import type { Solved } from "../view.ts";

/** Instants evenly over the move; between them everything is smooth. */
const EVENLY = 600;
/** More kinds of pass than this are not drawn over each other: nobody could tell them apart. */
const MOST_KINDS = 12;

/** Each kind of pass as it plays: its targets off their places, the motion solved for them, and how far it may be off pass 1. */
export function* stagePasses(
  uri: string,
  version: number,
  { move, trajectory }: Pick<Solved, "move" | "trajectory">,
): Task<StagePasses> {
  const kinds = move.passes.slice(0, MOST_KINDS);
  if (kinds.length === 0) return { uri, version, problem: "The move names no passes." };
  const { duration, knots } = trajectory;
  const even = Array.from({ length: EVENLY + 1 }, (_, i) => (duration * i) / EVENLY);
  const times = Float64Array.from(new Set([...even, ...(knots.length < EVENLY ? knots : [])])).sort();
  const numbers = passNumbers(move).slice(0, MOST_KINDS);
  const lasts = numbers.map(({ last }) => last);
  const errors = yield* passErrors(trajectory, times, lasts);
  const solved: { readonly pass: ResolvedPass; readonly motion: StagePass["motion"] }[] = [];
  for (const pass of kinds) {
    const known = solved.find((one) => sameData(one.pass.targets, pass.targets));
    solved.push({ pass, motion: known ? known.motion : yield* motionOf(pass) });
  }
  const passes = solved.map(({ pass, motion }, i): StagePass => ({
    name: pass.name,
    ...numbers[i],
    ...(motion ? { motion } : {}),
    ...(errors ? { error: whole(errors.radius.subarray(i * times.length, (i + 1) * times.length)) } : {}),
  }));
  return { uri, version, t: whole(times), match: move.tolerance.match, passes };

  function* motionOf(pass: ResolvedPass): Task<StagePass["motion"]> {
    if (Object.values(pass.targets).every((shift) => shift.every((by) => by === 0))) return undefined;
    const variant = yield* planTrajectory(passVariant(move, pass), trajectory.record);
    const { t, value, speed, position, targets } = yield* sampleTake(variant, times);
    return {
      t: whole(t),
      value: whole(value),
      speed: small(speed),
      position: small(position),
      targets: small(targets),
    };
  }
}

const whole = (numbers: Float64Array): PackedNumbers => packTable(numbers, "f64");
const small = (numbers: Float64Array): PackedNumbers => packTable(numbers, "f32");
