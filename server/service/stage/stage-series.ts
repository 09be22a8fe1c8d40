import type { Task } from "../../../core/base/task.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import { clearanceCurves } from "../../../core/checks/space/clearance-curves.ts";
import type { Trajectory } from "../../../core/motion/trajectory.ts";
import { passErrors, passNumbers } from "../../../core/repeat/pass-errors.ts";
import { packTable, unpackNumbers } from "../../../protocol/codec.ts";
import type { PackedNumbers } from "../../../protocol/stage.ts";
import type { SeriesLine, SeriesName, StageSeries } from "../../../protocol/stage-series.ts";
import { packSteps } from "../../../protocol/step-table.ts";
import type { Solved } from "../view.ts";

/** Instants evenly over the move; each of clearance measures every pair of bodies that may be the nearest. */
const EVENLY: Readonly<Record<SeriesName, number>> = { clearance: 400, passes: 600 };

type Made = { readonly lines: readonly SeriesLine[] } | { readonly problem: string };

/** The curves of a name of a solved move. */
export function* stageSeries(uri: string, version: number, solved: Solved, name: SeriesName): Task<StageSeries> {
  const times = timesOf(solved, EVENLY[name]);
  const made = yield* name === "clearance" ? clearance(solved.trajectory, times) : passes(solved.trajectory, times);
  return { name, uri, version, ...made };
}

const whole = (numbers: Float64Array): PackedNumbers => packTable(numbers, "f64");

function* clearance(trajectory: Trajectory, times: Float64Array): Task<Made> {
  const curves = yield* clearanceCurves(trajectory, times);
  if (curves.length === 0) {
    return { problem: "Nothing stands in the set that the rig moves past, and it has no bodies that go up and down." };
  }
  return {
    lines: curves.map(({ to, limit, t, distance, nearest, pairs }) => ({
      name: to,
      limit,
      t: whole(t),
      values: whole(distance),
      words: pairs.map(({ part, target }) => `${part} to ${target}`),
      word: packTable(Float64Array.from(nearest), "f32"),
    })),
  };
}

function* passes(trajectory: Trajectory, times: Float64Array): Task<Made> {
  const { move } = trajectory;
  const kinds = passNumbers(move)
    .map(({ last }, kind) => ({ last, name: move.passes[kind].name }))
    .filter(({ last }) => last > 1);
  if (kinds.length === 0) return { problem: "The move is taken once: there is no second pass that could differ." };
  const errors = yield* passErrors(
    trajectory,
    times,
    kinds.map(({ last }) => last),
  );
  if (!errors) return { problem: "The rig states nothing of how its axes repeat, so passes can't be compared." };
  if (errors.radius.every(Number.isNaN)) {
    return { problem: "The move aims at nothing that is seen, so there is no subject that passes could miss." };
  }
  return {
    lines: kinds.map(({ last, name }, idx) => ({
      name: `${name}, pass ${last}`,
      limit: move.tolerance.match,
      t: whole(times),
      values: whole(errors.radius.subarray(idx * times.length, (idx + 1) * times.length)),
    })),
  };
}

/** Evenly over the move, its knots, and where findings are worst: no curve is worst elsewhere than they say. */
function timesOf({ trajectory: { duration, knots }, findings }: Solved, count: number): Float64Array {
  const even = Array.from({ length: count + 1 }, (_, i) => (duration * i) / count);
  const worst = findings.flatMap(({ peak }: PlacedFinding) => (peak === undefined ? [] : [peak]));
  const all = [...even, ...(knots.length < count ? knots : []), ...worst];
  return Float64Array.from(new Set(all.filter((time) => 0 <= time && time <= duration))).sort();
}

/** Steps of what a page holds, as a share of the largest number: far below what can be read of a curve. */
const PAGE_STEP = 2 ** -20;

/** The same curves where room is short. */
export function smallSeries(series: StageSeries): StageSeries {
  if (!("lines" in series)) return series;
  const small = (numbers: PackedNumbers): PackedNumbers => packSteps(unpackNumbers(numbers), 1, PAGE_STEP);
  return {
    ...series,
    lines: series.lines.map(({ t, values, word, ...line }) => ({
      ...line,
      t: small(t),
      values: small(values),
      ...(word ? { word: small(word) } : {}),
    })),
  };
}
