import { exposureTime } from "../../lens/exposure.ts";
import { backgroundPace, createPictureRoom, targetSpeed } from "../../motion/picture-motion.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { sampled, type Measured } from "./measured.ts";

const UNSEEN = "the target is behind the camera";

/** How far a target goes in the picture in a time that the move tells [captured px]. */
function wayIn(time: (move: ResolvedMove) => number): Measured {
  return sampled(
    (target) => {
      const room = createPictureRoom();
      return (instant, move) => targetSpeed(move, instant, target, room) * time(move);
    },
    "rates",
    UNSEEN,
  );
}

/** How far a target goes in the picture from one frame to the next [captured px]. */
export const targetMotion = wayIn(({ rate }) => rate.den / rate.num);

/** How far a target smears while the shutter is open [captured px]. */
export const targetBlur = wayIn(({ optics, rate }) => exposureTime(optics.shutter, rate));

/** The time in which the far background crosses the delivered picture, as fast as the camera turns then [s]; Infinity at rest. */
export const backgroundCrossing: Measured = sampled(
  () => {
    const room = createPictureRoom();
    return (instant, move) => move.deliver[0] / backgroundPace(move, instant, room);
  },
  "rates",
  "the lens forms no picture at the edges",
);
