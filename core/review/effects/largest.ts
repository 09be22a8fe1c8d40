import type { Task } from "../../base/task.ts";
import type { Instant, Trajectory } from "../../motion/trajectory.ts";

/** What two instants differ in; NaN where it is not to be compared. */
export type Difference = (was: Instant, is: Instant) => number;

/** Instants of two motions that are set against each other: `t` of the one after, `t · scale` of the one before [s]. */
export interface Aligned {
  readonly before: Trajectory;
  readonly after: Trajectory;
  /** Up to here, in time of the motion after [s]. */
  readonly until: number;
  readonly scale: number;
}

/** Steps of even length that the time is looked at in, beside the knots of both motions. */
const STEPS = 240;

/** Most knots that are looked at. */
const MOST_KNOTS = 480;

/** Steps of the search for the largest between the samples beside the highest; it is then within 1e-3 of a step. */
const NARROWED = 10;

/** Instants between two yields. */
const SLICE = 64;

/** The highest of each difference and when [s, of the motion after], looked for between the samples too. */
export function* largestOf(
  aligned: Aligned,
  differences: readonly Difference[],
): Task<({ readonly value: number; readonly at: number } | undefined)[]> {
  const look = looker(aligned);
  const times = timesOf(aligned);
  const best = differences.map(() => ({ value: -1, index: -1 }));
  for (let i = 0; i < times.length; i++) {
    const { was, is } = look(times[i]);
    differences.forEach((difference, k) => {
      const value = difference(was, is);
      if (value > best[k].value) best[k] = { value, index: i };
    });
    if (i % SLICE === SLICE - 1) yield;
  }
  const out: ({ value: number; at: number } | undefined)[] = [];
  for (let k = 0; k < differences.length; k++) {
    const { value, index } = best[k];
    const [from, to] = [times[Math.max(0, index - 1)], times[Math.min(times.length - 1, index + 1)]];
    const at = (t: number): number => {
      const { was, is } = look(t);
      return differences[k](was, is);
    };
    out.push(
      index < 0 ? undefined : value === 0 ? { value, at: 0 } : narrowed(at, from, to, { value, at: times[index] }),
    );
    yield;
  }
  return out;
}

function looker({ before, after, scale }: Aligned): (t: number) => { readonly was: Instant; readonly is: Instant } {
  const [was, is] = [before.createInstant(), after.createInstant()];
  return (t) => {
    before.poseAt(Math.min(before.duration, t * scale), was);
    after.poseAt(t, is);
    return { was, is };
  };
}

function timesOf({ before, after, until, scale }: Aligned): number[] {
  const even = Array.from({ length: STEPS + 1 }, (_, i) => (until * i) / STEPS);
  const knots = [...after.knots, ...(scale > 0 ? before.knots.map((t) => t / scale) : [])].filter((t) => t <= until);
  const stride = Math.max(1, Math.ceil(knots.length / MOST_KNOTS));
  return [...new Set([...even, ...knots.filter((_, idx) => idx % stride === 0)])].sort((a, b) => a - b);
}

/** Golden-section search for a maximum between two times, never below what is known. */
function narrowed(
  at: (t: number) => number,
  from: number,
  to: number,
  known: { readonly value: number; readonly at: number },
): { value: number; at: number } {
  const part = (Math.sqrt(5) - 1) / 2;
  let [lo, hi] = [from, to];
  let best = known;
  const see = (t: number): number => {
    const value = at(t);
    if (value > best.value) best = { value, at: t };
    return value;
  };
  let [a, b] = [hi - part * (hi - lo), lo + part * (hi - lo)];
  let [atA, atB] = [see(a), see(b)];
  for (let step = 0; step < NARROWED; step++) {
    if (atA < atB) {
      [lo, a, atA] = [a, b, atB];
      b = lo + part * (hi - lo);
      atB = see(b);
    } else {
      [hi, b, atB] = [b, a, atA];
      a = hi - part * (hi - lo);
      atA = see(a);
    }
  }
  return best;
}
