import type { AimStretch } from "./aim-timeline.ts";
import { layKnots, type KeyTiming } from "./key-timing.ts";
import type { Piecewise } from "./piecewise.ts";

/** The share of a switch that is done, 0 where it begins and 1 where it ends. It rests where all rests. */
export function switchCurve({ start, end, ease }: AimStretch, timing: KeyTiming): Piecewise {
  const done = { time: end, value: 1, rest: true };
  return layKnots([{ time: start, value: 0, rest: true }, ease ? { ...done, ease } : done], timing);
}
