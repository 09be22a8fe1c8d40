import type uPlot from "uplot";
import type { Columns } from "./columns.ts";
import type { TraceFrame } from "./trace.ts";

/** What lies so far outside of a canvas is outside, however far [px]. */
const FAR = 1e5;

/** Where the plot's window stands on its canvas, in the canvas's own px. */
export function traceFrame({ bbox, scales: { x, y } }: uPlot, columns: Columns): TraceFrame {
  const [min, max] = [y.min ?? 0, y.max ?? 1];
  return {
    from: x.min ?? 0,
    to: x.max ?? 1,
    left: bbox.left,
    width: bbox.width,
    columns,
    yOf: (value) => Math.min(Math.max(bbox.top + ((max - value) / (max - min)) * bbox.height, -FAR), FAR),
  };
}
