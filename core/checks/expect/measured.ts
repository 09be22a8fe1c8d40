import type { Task } from "../../base/task.ts";
import type { CheckContext } from "../check.ts";
import { sampledExtremes, type Quantity, type SampledExtremes } from "../scan/sampled-extremes.ts";

/** Of what, and over which time [s]. */
export interface Asked {
  /** Index of the axis or target; -1 for a quantity of neither. */
  readonly subject: number;
  readonly from: number;
  readonly to: number;
}

/** How a quantity of the move's own tests is computed. */
export interface Measured {
  /** Its lowest and highest value, refined between samples. It may be costly: what it saw is kept in `context.seen`. */
  readonly extremes: (context: CheckContext, asked: Asked) => Task<SampledExtremes>;
  readonly evidence: "exact" | "sampled";
  /** It is of the whole move, not of an instant. */
  readonly timeless?: true;
  /** Why it may have no value, as a half sentence: `the target is behind the camera`. */
  readonly without?: string;
}

/**
 * A number of one instant, sampled and refined.
 *
 * @param of   Makes it for an axis or target by its index.
 * @param look `rates` for a quantity that hangs on speeds; without them an instant takes half the time.
 */
export function sampled(of: (subject: number) => Quantity, look: "poses" | "rates", without?: string): Measured {
  return {
    *extremes({ trajectory }, { subject, from, to }) {
      return yield* sampledExtremes(trajectory, of(subject), from, to, look);
    },
    evidence: "sampled",
    ...(without === undefined ? {} : { without }),
  };
}
