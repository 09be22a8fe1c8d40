import type { Columns } from "./columns.ts";
import { extentOf, type Extent, type Extents } from "./extents.ts";
import { sampleAt } from "./samples.ts";

/** What draws: a `Path2D`, or a test that notes the places. */
export interface Pen {
  moveTo(x: number, y: number): void;
  lineTo(x: number, y: number): void;
}

/** Where a stretch of time stands in px: `left`.. `left + width` across. */
export interface TraceFrame {
  readonly from: number;
  readonly to: number;
  readonly left: number;
  readonly width: number;
  readonly columns: Columns;
  /** Place of a number down [px]. */
  readonly yOf: (value: number) => number;
}

/** Places that differ by less than this are one [px of the canvas]. */
const SAME = 0.5;

/** Samples a column of px from which on their extremes are drawn in place of each of them. */
const DENSE = 2;

/**
 * Draws a curve over a stretch of time: through every sample while there is room, else of each column of px the first, the
 * lowest, the highest and the last, as far as they are different places. Either gives the same px, so no peak is ever lost.
 * What is not finite leaves a gap.
 */
export function traceLine(extents: Extents, frame: TraceFrame, pen: Pen): void {
  const { times } = extents.samples;
  const columns = Math.ceil(frame.width);
  if (!(frame.to > frame.from) || columns < 1) return;
  const starts = frame.columns.startsOf(times, frame.from, frame.to, columns);
  const [first, last] = [starts[0], starts[columns]];
  const line = createLine(pen);
  if (last - first <= DENSE * columns) {
    for (let i = Math.max(0, first - 1); i < Math.min(times.length, last + 1); i++) tracePoint(extents, frame, line, i);
    return;
  }
  if (first > 0) tracePoint(extents, frame, line, first - 1);
  traceColumns(extents, frame, line, starts);
  if (last < times.length) tracePoint(extents, frame, line, last);
}

function traceColumns(extents: Extents, { left, width, yOf }: TraceFrame, line: Line, starts: Int32Array): void {
  const { samples } = extents;
  const columns = starts.length - 1;
  const room: Extent = { low: NaN, high: NaN };
  for (let column = 0; column < columns; column++) {
    const [start, next] = [starts[column], starts[column + 1]];
    if (next === start) continue;
    const { low, high } = extentOf(extents, start, next, room);
    const x = left + ((column + 0.5) * width) / columns;
    const [a, b] = [sampleAt(samples, start), sampleAt(samples, next - 1)];
    if (!Number.isFinite(a)) line.lift();
    if (low <= high) {
      const [bottom, top] = [yOf(low), yOf(high)];
      // Most columns of a smooth curve are a single place.
      if (bottom - top < SAME) line.to(x, (bottom + top) / 2);
      else {
        // From the end that the first sample is nearer to: a curve that only rises or falls has two places.
        const falls = a - low > high - a;
        const [begin, end] = falls ? [high, low] : [low, high];
        if (Number.isFinite(a) && a !== begin) line.to(x, yOf(a));
        line.to(x, falls ? top : bottom);
        line.to(x, falls ? bottom : top);
        if (Number.isFinite(b) && b !== end) line.to(x, yOf(b));
      }
    }
    if (!Number.isFinite(b)) line.lift();
  }
}

function tracePoint({ samples }: Extents, { from, to, left, width, yOf }: TraceFrame, line: Line, i: number): void {
  const value = sampleAt(samples, i);
  if (Number.isFinite(value)) line.to(left + ((samples.times[i] - from) / (to - from)) * width, yOf(value));
  else line.lift();
}

interface Line {
  to(x: number, y: number): void;
  /** The next point begins anew. */
  lift(): void;
}

function createLine(pen: Pen): Line {
  let isUp = true;
  return {
    to(x, y) {
      if (isUp) pen.moveTo(x, y);
      else pen.lineTo(x, y);
      isUp = false;
    },
    lift: () => void (isUp = true),
  };
}
