import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { repeatAxes } from "../../repeat/repeat-axes.ts";
import { createSensitivity } from "../../repeat/sensitivity.ts";
import { subjectIndex } from "../../motion/subject-index.ts";
import type { Watch } from "../scan/scan.ts";

/** The rows of the k-th of the axes that repeat: captured px that the subject moves per m or rad of it, and its value. */
export const passRows = (k: number): readonly [across: string, down: string, value: string] => [
  `across ${k}`,
  `down ${k}`,
  `value ${k}`,
];

/** What errors of the axes do to the picture of what is aimed at: NaN where nothing is aimed at or seen. */
export function passWatch(move: ResolvedMove): Watch {
  const axes = repeatAxes(move).map(({ axis }) => axis);
  const sensitivity = createSensitivity(move, axes);
  const columns = new Float64Array(2 * axes.length);
  return {
    rows: axes.flatMap((_, k) => passRows(k)),
    look: "poses",
    record(instant, out, at) {
      const target = subjectIndex(instant);
      if (target < 0 || !sensitivity(instant, target, columns)) columns.fill(NaN);
      for (let k = 0; k < axes.length; k++) {
        out[at + 3 * k] = columns[2 * k];
        out[at + 3 * k + 1] = columns[2 * k + 1];
        out[at + 3 * k + 2] = instant.value[axes[k]];
      }
    },
  };
}
