import { formatQuantity, trimmed } from "../../core/base/units.ts";
import { lookAt } from "../../core/checks/optics/looked-at.ts";
import { exposureTime } from "../../core/lens/exposure.ts";
import { backgroundPace, createPictureRoom, edgeSpeed } from "../../core/motion/picture-motion.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { Instant } from "../../core/motion/trajectory.ts";
import { code } from "./markdown.ts";

/** [captured px] A picture that goes by less from frame to frame stands. */
const STANDS = 0.05;

/**
 * How the picture moves in an instant with its rates: what the eye rests on, and the far background behind it; `undefined`
 * while both stand.
 */
export function imageLine(move: ResolvedMove, instant: Instant): string | undefined {
  const { optics, rate, deliver, targets } = move;
  const room = createPictureRoom();
  const { target, speed } = lookAt(move, instant, room, { target: -1, speed: 0, pace: 0 });
  const frame = rate.den / rate.num;
  const exposure = exposureTime(optics.shutter, rate);
  const open = `1/${trimmed(1 / exposure, 1)} s`;
  const px = (value: number): string => formatQuantity(value, "pixels");
  const subject =
    target < 0
      ? ""
      : `${code(targets[target].name)} goes ${px(speed * frame)} a frame and smears over ${px(speed * exposure)}`;
  const pace = backgroundPace(move, instant, room);
  const edges = edgeSpeed(move, instant, room) * exposure;
  const crossing =
    pace * frame < STANDS ? "stands" : `crosses the delivered picture in ${formatQuantity(deliver[0] / pace, "time")}`;
  const background = `the far background ${crossing} and smears over ${px(edges)} at the edges`;
  if (![speed * frame, pace * frame, edges].some((each) => STANDS <= each)) return undefined;
  return `Picture (shutter ${open}): ${subject === "" ? background : `${subject}; ${background}`}.`;
}
