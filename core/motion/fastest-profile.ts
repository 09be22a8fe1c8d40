import type { Task } from "../base/task.ts";
import { solveBanded } from "./banded-solve.ts";
import { limitRows, type LimitRows } from "./limit-rows.ts";
import type { LimitedPath } from "./limited-path.ts";
import { barrierValue, createBarrierRoom, worstShare, writeNewton, type BarrierRoom } from "./speed-barrier.ts";
import { timesAtNodes, type SquaredSpeed } from "./squared-speed.ts";
import { refitted, sharedNodes, type NodeTimes } from "./time-nodes.ts";

/** Stretches of the first pass and of the last. */
const STRETCHES = [48, 240] as const;
/** Weight of the barrier at the end: what it costs is about this share of the time. */
const SHARE_LEFT = 1e-4;
const FALL = 0.15;
const MOST_STEPS = 160;
const MOST_HALVINGS = 40;
/** Newton's decrement, in units of the barrier, below which a weight is done with. */
const DONE = 0.1;

export interface FastestProfile {
  readonly speed: SquaredSpeed;
  readonly settled: boolean;
}

/**
 * The quickest way found to run through a path from rest to rest with every speed, acceleration and jerk inside its limit:
 * least time by a barrier method over all of it, first on few stretches, then on stretches of about equal time.
 *
 * @param path First and second derivatives vanish at both ends.
 * @param known How the time goes, about.
 */
export function* fastestProfile(path: LimitedPath, known: NodeTimes): Task<FastestProfile> {
  let speed: SquaredSpeed | undefined;
  let settled = true;
  for (const stretches of STRETCHES) {
    const spent = speed ? { nodes: speed.nodes, times: timesAtNodes(speed) } : known;
    const nodes = sharedNodes(path.knots, stretches, spent);
    const rows = limitRows(path, nodes);
    const room = createBarrierRoom(rows);
    const start = speed ? refitted(speed, nodes) : new Float64Array(nodes.length + 1).fill(1);
    const share = worstShare(rows, start, room);
    // Inside every limit: slowing down by a factor takes b down by its square.
    for (let i = 0; i < start.length; i++) start[i] *= 0.96 / (share * share);
    settled = yield* descend(rows, start, room, speed ? 0.02 : 1);
    speed = { nodes, coefficients: start };
    yield;
  }
  return { speed: speed!, settled };
}

/** Brings `c` down to the least time, the barrier's weight falling from `begin` times the time. */
function* descend(rows: LimitRows, c: Float64Array, room: BarrierRoom, begin: number): Task<boolean> {
  const size = c.length;
  const n = rows.nodes.length - 1;
  const trial = new Float64Array(size);
  const step = new Float64Array(size);
  const time = timeOf(rows, c);
  const last = (SHARE_LEFT * time) / n;
  let mu = Math.max(last, (begin * time) / n);
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    writeNewton(rows, c, mu, room);
    for (let i = 0; i < size; i++) step[i] = -room.gradient[i];
    if (!solveBanded(room.bands, step, size)) return false;
    let decrement = 0;
    for (let i = 0; i < size; i++) decrement -= room.gradient[i] * step[i];
    const before = barrierValue(rows, c, mu, room);
    let length = 1;
    let halvings = 0;
    for (; halvings < MOST_HALVINGS; halvings++, length /= 2) {
      for (let i = 0; i < size; i++) trial[i] = c[i] + length * step[i];
      if (barrierValue(rows, trial, mu, room) <= before - 0.01 * mu * length * decrement) break;
    }
    const moved = halvings < MOST_HALVINGS;
    if (moved) c.set(trial);
    if (!moved || decrement < DONE) {
      if (mu <= last) return true;
      mu = Math.max(last, FALL * mu);
    }
    yield;
  }
  return false;
}

function timeOf(rows: LimitRows, c: Float64Array): number {
  const times = timesAtNodes({ nodes: rows.nodes, coefficients: c });
  return times[times.length - 1];
}
