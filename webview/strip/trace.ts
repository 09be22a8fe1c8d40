import { extentOf, type Extent, type Extents } from "./extents.ts";
import { firstFrom, sampleAt } from "./samples.ts";

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
  /** Place of a number down [px]. */
  readonly yOf: (value: number) => number;
}

/** Samples a column of px from which on their extremes are drawn in place of each of them. */
const DENSE = 2;

/**
 * Draws a curve over a stretch of time: through every sample while there is room, else of each column of px the first, the
 * lowest, the highest and the last. Either gives the same px, so no peak is ever lost. What is not finite leaves a gap.
 */
export function traceLine(extents: Extents, frame: TraceFrame, pen: Pen): void {
  const { times } = extents.samples;
  const columns = Math.ceil(frame.width);
  const first = firstFrom(times, frame.from);
  const end = firstFrom(times, frame.to, first);
  const last = Math.min(times.length, end < times.length && times[end] === frame.to ? end + 1 : end);
  if (!(frame.to > frame.from) || columns < 1) return;
  const line = createLine(pen);
  if (last - first <= DENSE * columns) {
    for (let i = Math.max(0, first - 1); i < Math.min(times.length, last + 1); i++) tracePoint(extents, frame, line, i);
    return;
  }
  if (first > 0) tracePoint(extents, frame, line, first - 1);
  traceColumns(extents, frame, line, first, last, columns);
  if (last < times.length) tracePoint(extents, frame, line, last);
}

function traceColumns(
  extents: Extents,
  { from, to, left, width, yOf }: TraceFrame,
  line: Line,
  first: number,
  last: number,
  columns: number,
): void {
  const { samples } = extents;
  const { times } = samples;
  const room: Extent = { low: NaN, high: NaN };
  const step = (to - from) / columns;
  let start = first;
  for (let column = 0; column < columns && start < last; column++) {
    const next = column + 1 === columns ? last : firstFrom(times, from + (column + 1) * step, start);
    if (next === start) continue;
    const { low, high } = extentOf(extents, start, next, room);
    const x = left + ((column + 0.5) * width) / columns;
    const [a, b] = [sampleAt(samples, start), sampleAt(samples, next - 1)];
    if (!Number.isFinite(a)) line.lift();
    if (low <= high) {
      if (Number.isFinite(a)) line.to(x, yOf(a));
      if (low < high) {
        line.to(x, yOf(low));
        line.to(x, yOf(high));
      } else if (!Number.isFinite(a)) line.to(x, yOf(low));
      if (Number.isFinite(b) && b !== high && b !== a) line.to(x, yOf(b));
    }
    if (!Number.isFinite(b)) line.lift();
    start = next;
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
