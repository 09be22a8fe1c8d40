/** The stretch of time that the graphs show [s]; `from` < `to`. */
export interface TimeWindow {
  readonly from: number;
  readonly to: number;
}

/** The shortest stretch that is shown [s]: half a frame at 50 a second. Between keys curves are smooth far below it. */
export const SHORTEST = 0.01;

/** A stretch within 0..`whole`, of its length if that is possible. */
export function within({ from, to }: TimeWindow, whole: number): TimeWindow {
  const length = Math.min(Math.max(to - from, Math.min(SHORTEST, whole)), whole);
  if (!(length > 0)) return { from: 0, to: whole };
  const start = Math.min(Math.max(from, 0), whole - length);
  return { from: start, to: start + length };
}

/** `factor` times as long, with `about` [s] staying where it is on the screen. */
export function zoomed({ from, to }: TimeWindow, factor: number, about: number, whole: number): TimeWindow {
  const length = Math.min(Math.max((to - from) * factor, Math.min(SHORTEST, whole)), whole);
  const share = to > from ? (about - from) / (to - from) : 0.5;
  return within({ from: about - share * length, to: about + (1 - share) * length }, whole);
}

export function panned({ from, to }: TimeWindow, by: number, whole: number): TimeWindow {
  return within({ from: from + by, to: to + by }, whole);
}

/** The window, moved by as little as shows `time`: at its edge with `margin` (a share of it) beside. */
export function showing(window: TimeWindow, time: number, margin: number, whole: number): TimeWindow {
  const { from, to } = window;
  const room = (to - from) * margin;
  if (time < from) return panned(window, time - room - from, whole);
  return time > to ? panned(window, time + room - to, whole) : window;
}

/** The window in which the times `a` and `b` stand at the shares `x` and `y` of its width, as two fingers hold them. */
export function pinched(a: number, x: number, b: number, y: number, whole: number): TimeWindow {
  const length = Math.min(Math.max((b - a) / (y - x), Math.min(SHORTEST, whole)), whole);
  if (!Number.isFinite(length)) return { from: 0, to: whole };
  const middle = (a + b) / 2 - ((x + y) / 2) * length;
  return within({ from: middle, to: middle + length }, whole);
}

export const isWhole = ({ from, to }: TimeWindow, whole: number): boolean => from <= 0 && whole <= to;
