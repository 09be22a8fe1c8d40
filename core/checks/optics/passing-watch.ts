import { createPictureRoom } from "../../motion/picture-motion.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Watch } from "../scan/scan.ts";
import { lookAt, type LookedAt } from "./looked-at.ts";

/** How fast what the eye rests on moves [captured px/s], as `LookedAt` has it; -Infinity where no picture can be told. */
export type PassingRow = "speed" | "pace";

export function passingWatch(move: ResolvedMove): Watch<PassingRow> {
  const room = createPictureRoom();
  const subject: LookedAt = { target: -1, speed: 0, pace: 0 };
  return {
    rows: ["speed", "pace"],
    look: "rates",
    record(instant, out, at) {
      const { speed, pace } = lookAt(move, instant, room, subject);
      out[at] = Number.isFinite(speed) ? speed : -Infinity;
      out[at + 1] = Number.isFinite(pace) ? pace : -Infinity;
    },
  };
}
