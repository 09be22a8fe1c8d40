import { formatQuantity, trimmed } from "../../../core/base/units.ts";
import { timeText } from "../key-table.ts";
import { code, paragraphs, plain, table } from "../markdown.ts";
import type { Solved } from "../view.ts";
import type { User } from "../hover.ts";

/** Most rows of a hover: longer ones are not read. */
const MOST_ROWS = 10;

/** A target of the move: its place, and how it is seen at the keys. */
export function targetInMove(solved: Solved, name: string): string | undefined {
  const { move, trajectory } = solved;
  const idx = move.targets.findIndex((each) => each.name === name);
  if (idx < 0) return undefined;
  const target = move.targets[idx];
  const at = target.at.map((value) => `${Number(value.toFixed(4))}`).join(", ");
  const where = target.on === undefined ? "in the set" : `on ${code(move.turntables[target.on].name)}`;
  const instant = trajectory.createInstant();
  const rows = move.keys.slice(0, MOST_ROWS).map(({ label, time }) => {
    trajectory.poseAt(time, instant);
    const [across, down] = [instant.framing[2 * idx], instant.framing[2 * idx + 1]];
    return [plain(label), timeText(move, time), formatQuantity(instant.distance[idx], "length"), seenAt(across, down)];
  });
  return paragraphs([
    `${code(name)}: a target at [${at}] m ${where}${target.follow ? ", which moves by itself" : ""}.`,
    table(["at key", "time", "distance", "framing"], rows),
    more(move.keys.length, "keys"),
  ]);
}

/** A target of a set: how far the moves that use it are from it at their keys. */
export function targetInSet(users: readonly User[], name: string): string | undefined {
  const rows = users.flatMap(({ title, solved: { move, trajectory } }) => {
    const idx = move.targets.findIndex((each) => each.name === name);
    if (idx < 0 || move.keys.length === 0) return [];
    const instant = trajectory.createInstant();
    const seen = move.keys.map(({ label, time }) => {
      trajectory.poseAt(time, instant);
      return { label, distance: instant.distance[idx] };
    });
    const ordered = [...seen].sort((one, other) => one.distance - other.distance);
    const show = ({ label, distance }: (typeof seen)[number]) =>
      `${formatQuantity(distance, "length")} at ${plain(label)}`;
    return [[plain(title), show(ordered[0]), show(ordered[ordered.length - 1])]];
  });
  if (rows.length === 0) return undefined;
  return paragraphs([
    table([`${code(name)} from the pupil in`, "nearest key", "farthest key"], rows.slice(0, MOST_ROWS)),
    more(rows.length, "moves"),
  ]);
}

function more(count: number, what: string): string | undefined {
  return count > MOST_ROWS ? `And ${count - MOST_ROWS} more ${what}.` : undefined;
}

function seenAt(across: number, down: number): string {
  return Number.isNaN(across) ? "behind the camera" : `${trimmed(across, 3)}, ${trimmed(down, 3)}`;
}
