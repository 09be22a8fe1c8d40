import { freeShare } from "../../load/feet.ts";
import { createStand, writeStand, type Stand } from "../../load/stand.ts";
import { sampled, type Measured } from "./measured.ts";

/** What `tip-over` looks at; no value for a rig without feet or masses. */
export const supportMargin: Measured = sampled(
  () => {
    let stand: Stand | undefined;
    return (instant, move) => {
      stand ??= createStand(move);
      if (!stand) return NaN;
      writeStand(stand, move, instant);
      return freeShare(stand.feet, stand.pull, 1);
    };
  },
  "rates",
  "the rig states no feet (`support`) or no `masses`",
);
