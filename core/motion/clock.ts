import { SAME_TIME } from "./same-time.ts";
import { pieceAt, writeSeries, type Piecewise } from "./piecewise.ts";
import { ROOM } from "./series.ts";

/**
 * Written time over played time, where keys state speeds: ds/dt is the share of speed at t. Between two keys the share goes
 * from one to the other as a minimum-jerk quintic in played time, so the time written is a polynomial of degree 6 of the
 * time played, and over a way of h seconds it rises by h (a + b) / 2. Before the first and after the last the share stays.
 */
export interface Clock {
  /** Written time [s] over played time [s], degree 6. */
  readonly curve: Piecewise;
  /** Written time at the ends of its pieces [s], shape (pieces + 1,). */
  readonly written: Float64Array;
  /** Share of speed there. */
  readonly share: Float64Array;
}

/** A share of written speed, more than 0, at a time [s]. */
export interface Pace {
  readonly time: number;
  readonly share: number;
}

/** The clock that goes through `paces`, given in played time, ascending; at time 0 no time has been written. */
export function clockFromPlayed(paces: readonly Pace[]): Clock | undefined {
  return clockThrough(paces, (span, a, b) => ({ played: span, written: (span * (a + b)) / 2 }));
}

/** The same clock from paces in written time. */
export function clockFromWritten(paces: readonly Pace[]): Clock | undefined {
  return clockThrough(paces, (span, a, b) => ({ played: (2 * span) / (a + b), written: span }));
}

function clockThrough(
  paces: readonly Pace[],
  lengths: (span: number, from: number, to: number) => { readonly played: number; readonly written: number },
): Clock | undefined {
  const usable = paces.filter(({ time, share }) => Number.isFinite(time) && 0 < share && Number.isFinite(share));
  if (usable.length === 0) return undefined;
  // One piece at least, so that there is a curve: from 0 on, at the first share.
  const nodes = [{ time: 0, share: usable[0].share }];
  for (const pace of usable) {
    const before = nodes[nodes.length - 1];
    if (SAME_TIME < pace.time - before.time) nodes.push(pace);
    else nodes[nodes.length - 1] = { time: before.time, share: pace.share };
  }
  if (nodes.length === 1) nodes.push({ time: nodes[0].time + 1, share: nodes[0].share });
  const times = [0];
  const written = [0];
  const coefficients: number[] = [];
  for (let i = 0; i + 1 < nodes.length; i++) {
    const [a, b] = [nodes[i].share, nodes[i + 1].share];
    const { played, written: rise } = lengths(nodes[i + 1].time - nodes[i].time, a, b);
    const change = played * (b - a);
    coefficients.push(written[i], played * a, 0, 0, 2.5 * change, -3 * change, change);
    times.push(times[i] + played);
    written.push(written[i] + rise);
  }
  return {
    curve: { degree: 6, times: Float64Array.from(times), coefficients: Float64Array.from(coefficients) },
    written: Float64Array.from(written),
    share: Float64Array.from(nodes, (node) => node.share),
  };
}

/** Written time and its derivatives (Taylor coefficients, orders 0 to `order`) at played time `t`, into `out[0 ..]`. */
export function writeWritten(clock: Clock, t: number, order: number, out: Float64Array): void {
  const { curve, written, share } = clock;
  const last = curve.times.length - 1;
  const beyond = t <= curve.times[0] ? 0 : curve.times[last] <= t ? last : -1;
  if (beyond < 0) return writeSeries(curve, pieceAt(curve.times, t, "right"), t, order, out, 0);
  out.fill(0, 0, order + 1);
  out[0] = written[beyond] + share[beyond] * (t - curve.times[beyond]);
  if (0 < order) out[1] = share[beyond];
}

/** Written time at played time `t`, both in s; without a clock they are the same. */
export function writtenAt(clock: Clock | undefined, t: number): number {
  if (!clock) return t;
  const out = new Float64Array(ROOM);
  writeWritten(clock, t, 0, out);
  return out[0];
}

/** Played time at which the time `written` has been written: the inverse of `writtenAt`. */
export function playedAt(clock: Clock | undefined, written: number): number {
  if (!clock) return written;
  const { times } = clock.curve;
  const last = times.length - 1;
  if (written <= clock.written[0]) return times[0] + (written - clock.written[0]) / clock.share[0];
  if (clock.written[last] <= written) return times[last] + (written - clock.written[last]) / clock.share[last];
  const piece = pieceAt(clock.written, written, "right");
  let [low, high] = [times[piece], times[piece + 1]];
  const [start, rise] = [clock.written[piece], clock.written[piece + 1] - clock.written[piece]];
  let t = low + ((high - low) * (written - start)) / rise;
  const out = new Float64Array(ROOM);
  // The share is never 0, so Newton's method, kept within a bracket that bisection shrinks, ends at rounding.
  for (let step = 0; step < 80; step++) {
    writeSeries(clock.curve, piece, t, 1, out, 0);
    const off = out[0] - written;
    if (off === 0) return t;
    if (off < 0) low = t;
    else high = t;
    const newton = t - off / out[1];
    const next = low < newton && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - t) <= 1e-16 * Math.abs(t)) return next;
    t = next;
  }
  return t;
}

/** True where the share is the same at both ends of a piece: written and played time go in step. */
export function isSteady(clock: Clock, piece: number): boolean {
  return clock.share[piece] === clock.share[piece + 1];
}
