import { createMoment, momentAt } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import type { DotShape } from "./dot-material.ts";
import { createDots, type Dots } from "./dots.ts";

/** A mark at the entrance pupil of each key. */
export function createKeyMarks(open: OpenTake, shape: DotShape = "diamond"): Dots {
  const marks = createDots(open.keyTimes.length, {
    ...{ shape, size: 13, colour: "key", chosen: "key-chosen" },
    order: shape === "diamond" ? 21 : 19,
  });
  const moment = createMoment(open);
  open.keyTimes.forEach((time, key) => {
    momentAt(open, time, moment);
    marks.places.set(moment.pupil, 3 * key);
  });
  marks.moved();
  return marks;
}
