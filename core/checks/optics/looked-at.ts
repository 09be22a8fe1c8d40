import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { backgroundPace, backgroundSpeed, targetSpeed, type PictureRoom } from "../../motion/picture-motion.ts";
import type { Instant } from "../../motion/trajectory.ts";

/** What the eye rests on in an instant, and how fast it moves. */
export interface LookedAt {
  /** Index of the target; -1 for the far background in the middle of the picture. */
  target: number;
  /** Where it is [captured px/s]; NaN without a picture of it. */
  speed: number;
  /** The same for what crosses the whole width: of the background the mean over the width [captured px/s]. */
  pace: number;
}

/**
 * What the eye rests on: the target that is aimed at, in a change of aim the one of the two that moves less; without an
 * aim the target that is focused on; and where none of these is in the captured picture, the far background in its middle.
 * A subject that is held still in the frame may have a background that rushes by: the eye does not follow that.
 *
 * @param instant With its rates.
 * @param out     Written and returned.
 */
export function lookAt(move: ResolvedMove, instant: Instant, room: PictureRoom, out: LookedAt): LookedAt {
  const { aimFrom, aimTo, t } = instant;
  out.target = -1;
  out.speed = out.pace = Infinity;
  if (0 <= aimFrom || 0 <= aimTo) {
    consider(move, instant, aimFrom, room, out);
    if (aimTo !== aimFrom) consider(move, instant, aimTo, room, out);
  } else consider(move, instant, focusedAt(move, t), room, out);
  if (0 <= out.target) return out;
  out.speed = backgroundSpeed(move, instant, 0.5, 0.5, room);
  out.pace = backgroundPace(move, instant, room);
  return out;
}

function consider(move: ResolvedMove, instant: Instant, target: number, room: PictureRoom, out: LookedAt): void {
  if (target < 0 || !isInPicture(instant.framing[2 * target]) || !isInPicture(instant.framing[2 * target + 1])) return;
  const speed = targetSpeed(move, instant, target, room);
  if (!(speed < out.speed)) return;
  out.target = target;
  out.speed = out.pace = speed;
}

const isInPicture = (share: number): boolean => 0 <= share && share <= 1;

/** [s] Nearer than this to a key's time is at the key. */
const AT_KEY = 1e-6;

/** The target that the last key with a focus up to `t` focuses on; before the first such key its own. -1 for a distance or none. */
function focusedAt({ keys }: ResolvedMove, t: number): number {
  let found = -1;
  let isFirst = true;
  for (const { focus, time } of keys) {
    if (!focus) continue;
    if (!isFirst && t + AT_KEY < time) break;
    found = focus.kind === "target" ? focus.target : -1;
    isFirst = false;
  }
  return found;
}
