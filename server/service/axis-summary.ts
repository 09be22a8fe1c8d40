import { formatQuantity } from "../../core/base/units.ts";
import { highest, peakOf, type Peak } from "../../core/motion/peaks.ts";
import type { MoveAxis } from "../../core/motion/resolved-move.ts";
import type { Extreme, Order } from "../../core/motion/trajectory.ts";
import { dimensionOf } from "./axis-dimension.ts";
import { moreRows, MOST_ROWS, STALE, type User } from "./hover/around.ts";
import { labelText } from "./key-table.ts";
import { code, paragraphs, plain, table } from "./markdown.ts";
import { LIMIT_WORDS, percent, shareWords } from "./peak-words.ts";
import type { Solved } from "./view.ts";

const RATES = ["value", "speed", "accel", "jerk"] as const;

/** What a rig or set says of an axis. */
export type AxisFacts = Pick<MoveAxis, "name" | "type" | "range" | "limits">;

/** One axis over the whole move: what it is, its highest and lowest values and what share of each limit they take. */
export function axisSummary(solved: Solved, name: string): string | undefined {
  const { move, trajectory } = solved;
  const idx = trajectory.axes.findIndex((axis) => axis.name === name);
  if (idx < 0) return undefined;
  const axis = trajectory.axes[idx];
  const rows = ([0, 1, 2, 3] as const).map((order) => {
    const { low, high } = trajectory.extremes(idx, order);
    const show = (extreme: Extreme) =>
      `${formatQuantity(extreme.value, dimensionOf(axis, order))} at ${labelText(move, extreme.t)}`;
    const peak = order === 0 ? undefined : peakOf(trajectory, idx, order);
    return [RATES[order], show(low), show(high), allowedText(axis, order), peak ? percent(peak.share) : ""];
  });
  return paragraphs([
    `${code(name)}: ${axis.type}, ${roleWords(axis)}, ${SOURCES[trajectory.sources[idx]]} in this move.`,
    solved.stale ? STALE : undefined,
    table(["over the move", "lowest", "highest", "allowed", "of limit"], rows),
  ]);
}

const SOURCES = {
  keyed: "keyed",
  solved: "solved",
  follows: "led by its leader",
  constant: "constant",
} as const;

function roleWords({ role }: MoveAxis): string {
  return { driven: "driven", setup: "set before the take", follows: "a follower", turntable: "a turntable" }[role];
}

function allowedText(axis: AxisFacts, order: Order): string {
  if (order === 0) return rangeText(axis);
  const limit = [axis.limits.speed, axis.limits.accel, axis.limits.jerk][order - 1];
  return limit === undefined ? "" : formatQuantity(limit, dimensionOf(axis, order));
}

function rangeText(axis: AxisFacts): string {
  if (!axis.range) return "";
  const { low, high } = axis.range;
  return [low, high].map((value) => formatQuantity(value, dimensionOf(axis, 0))).join(" to ");
}

/** `pan`: rotary, -170 deg to 170 deg, at most 60 deg/s, 120 deg/s2, 900 deg/s3. */
function factsText(axis: AxisFacts): string {
  const range = rangeText(axis);
  const limits = ([1, 2, 3] as const).map((order) => allowedText(axis, order)).filter((limit) => limit !== "");
  const most = limits.length === 0 ? "no limit is given" : `at most ${limits.join(", ")}`;
  return `${code(axis.name)}: ${axis.type}, ${range === "" ? "no range is given" : range}, ${most}.`;
}

/** The place of a move where it takes an axis nearest to a limit, and which. */
interface Use {
  readonly user: User;
  readonly axis: number;
  readonly worst?: Peak;
}

/**
 * What the moves that use an axis need of it: for whoever changes its limits. Moves that need most come first.
 *
 * @param facts What the document itself says of it, where that can be read.
 * @param order The limit that is asked about; without one, whichever is used most.
 */
export function axisUse(
  users: readonly User[],
  name: string,
  facts: AxisFacts | undefined,
  order?: Order,
): string | undefined {
  const orders = order === undefined ? ([1, 2, 3, 0] as const) : [order];
  const uses = users
    .flatMap((user): Use[] => {
      const { trajectory } = user.solved;
      const axis = trajectory.axes.findIndex((each) => each.name === name);
      if (axis < 0) return [];
      return [{ user, axis, worst: highest(orders.flatMap((each) => peakOf(trajectory, axis, each) ?? [])) }];
    })
    .sort((one, other) => (other.worst?.share ?? -1) - (one.worst?.share ?? -1));
  const own = facts ?? uses[0]?.user.solved.trajectory.axes[uses[0].axis];
  if (!own) return undefined;
  if (uses.length === 0) return paragraphs([factsText(own), "No move that was checked uses it."]);
  return paragraphs([
    factsText(own),
    mostUsed(uses[0], order),
    table([`${code(name)} in`, "value", "top speed", "top accel", "top jerk"], uses.slice(0, MOST_ROWS).map(useRow)),
    moreRows(uses.length, "moves"),
  ]);
}

/** `Used most by Lid to spout, on the way from lid to spout at 00:00:02:00: 96 % of speed.` */
function mostUsed({ user: { title, solved }, worst }: Use, asked: Order | undefined): string | undefined {
  if (!worst) return asked === undefined ? undefined : `No ${LIMIT_WORDS[asked]} is given.`;
  const { move } = solved;
  const after = move.keys.findIndex(({ time }) => time > worst.t);
  const [from, to] =
    after > 0 ? [move.keys[after - 1], move.keys[after]] : [move.keys[move.keys.length - 1], undefined];
  const isAt = !to || from.time === worst.t;
  const where = isAt ? `at key ${plain(from.label)}` : `on the way from ${plain(from.label)} to ${plain(to.label)}`;
  return `Used most by ${plain(title)}, ${where}, ${labelText(move, worst.t)}: ${shareWords(worst)}.`;
}

function useRow({ user: { title, solved }, axis }: Use): string[] {
  const { trajectory } = solved;
  const facts = trajectory.axes[axis];
  const peak = (order: 1 | 2 | 3) => {
    const { low, high } = trajectory.extremes(axis, order);
    const value = Math.max(Math.abs(low.value), Math.abs(high.value));
    const known = peakOf(trajectory, axis, order);
    return formatQuantity(value, dimensionOf(facts, order)) + (known ? ` (${percent(known.share)})` : "");
  };
  const { low, high } = trajectory.extremes(axis, 0);
  const value = [low, high].map((extreme) => formatQuantity(extreme.value, dimensionOf(facts, 0))).join(" to ");
  return [plain(title), value, peak(1), peak(2), peak(3)];
}
