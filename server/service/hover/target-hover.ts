import { formatQuantity, trimmed } from "../../../core/base/units.ts";
import { labelText, timeText } from "../key-table.ts";
import { code, paragraphs, plain, table } from "../markdown.ts";
import type { Solved } from "../view.ts";
import { moreRows, MOST_ROWS, STALE, type User } from "./around.ts";
import { sightingsOf, type Sightings } from "./sightings.ts";

/** Most stretches of time that are told one by one. */
const MOST_STRETCHES = 4;

/** A target of the move: its place, how near the pupil comes, when it is in the picture, and how it is seen at the keys. */
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
  const seen = sightingsOf(trajectory, idx);
  const shown = ({ t, distance }: Sightings["nearest"]) =>
    `${formatQuantity(distance, "length")} at ${labelText(move, t)}`;
  return paragraphs([
    `${code(name)}: a target at [${at}] m ${where}${target.follow ? ", which moves by itself" : ""}.`,
    solved.stale ? STALE : undefined,
    `From the entrance pupil: ${shown(seen.nearest)} at the nearest, ${shown(seen.farthest)} at the farthest. ${pictureWords(solved, seen)}`,
    table(["at key", "time", "distance", "framing"], rows),
    moreRows(move.keys.length, "keys"),
  ]);
}

/** When the target's place is in the captured picture. What stands before it is not looked at. */
function pictureWords({ move, trajectory: { duration } }: Solved, { inPicture, step }: Sightings): string {
  if (inPicture.length === 0) return "Its place is not in the captured picture.";
  const [first] = inPicture;
  if (first.from === 0 && first.to === duration) return "Its place is in the captured picture all the time.";
  const spans = inPicture
    .slice(0, MOST_STRETCHES)
    .map(({ from, to }) =>
      from === to ? `at ${labelText(move, from)}` : `${labelText(move, from)} to ${labelText(move, to)}`,
    );
  const left = inPicture.length > MOST_STRETCHES ? ` and ${inPicture.length - MOST_STRETCHES} times more` : "";
  return `Its place is in the captured picture: ${spans.join(", ")}${left} (looked at every ${formatQuantity(step, "time")}).`;
}

/** A target of a set: how near and how far the moves that use it are from it. */
export function targetInSet(users: readonly User[], name: string): string | undefined {
  const using = users.filter(({ solved }) => solved.move.targets.some((each) => each.name === name));
  if (using.length === 0) return undefined;
  const rows = using.slice(0, MOST_ROWS).map(({ title, solved: { move, trajectory } }) => {
    const seen = sightingsOf(
      trajectory,
      move.targets.findIndex((each) => each.name === name),
    );
    const show = ({ t, distance }: Sightings["nearest"]) =>
      `${formatQuantity(distance, "length")} at ${labelText(move, t)}`;
    const inPicture = seen.inPicture.reduce((sum, { from, to }) => sum + to - from, 0);
    return [plain(title), show(seen.nearest), show(seen.farthest), formatQuantity(inPicture, "time")];
  });
  return paragraphs([
    table([`${code(name)} from the pupil in`, "nearest", "farthest", "in the picture for"], rows),
    moreRows(using.length, "moves"),
  ]);
}

function seenAt(across: number, down: number): string {
  return Number.isNaN(across) ? "behind the camera" : `${trimmed(across, 3)}, ${trimmed(down, 3)}`;
}
