import type { Task } from "../base/task.ts";
import { solveBanded } from "./banded-solve.ts";
import { limitRows, type LimitRows } from "./limit-rows.ts";
import type { LimitedPath } from "./limited-path.ts";
import { barrierValue, createBarrierRoom, worstShare, writeNewton, type BarrierRoom } from "./speed-barrier.ts";
import { squaresAtNodes, timesAtNodes, type SquaredSpeed } from "./squared-speed.ts";
import { speedLimits, type SpeedLimits } from "./speed-limits.ts";
import { closerNodes, refitted, sharedNodes, spacingOf, type NodeSpacing } from "./time-nodes.ts";

/** Stretches of each pass. */
const STRETCHES = [48, 120, 240] as const;
/** Weight of the barrier at the end: what it costs is about this share of the time. */
const SHARE_LEFT = 1e-4;
const FALL = 0.15;
const MOST_STEPS = 160;
const MOST_HALVINGS = 40;
/** Newton's decrement, in units of the barrier, below which a weight is done with. */
const DONE = 0.1;

/** Share of the least b inside all limits that a search begins with, and what the barrier then counts for a known one. */
const INSIDE = 0.96;
const WARM = 0.02;
/** Share by which a limit may be passed between its places without another round, and rounds. */
const PASSED = 3e-4;
const MOST_ROUNDS = 4;

export interface FastestProfile {
  readonly speed: SquaredSpeed;
  /** False when the search was cut off. */
  readonly settled: boolean;
  /** How far its limits are passed or missed. */
  readonly limits: SpeedLimits;
}

/**
 * The quickest way found to run through a path from rest to rest with every speed, acceleration and jerk inside its limit:
 * least time by a barrier method over all of it, first on few stretches, then on more of them where they are needed, at
 * last on shorter ones where a limit is passed between the places at which it is asked for.
 *
 * @param path First and second derivatives vanish at both ends.
 * @param known Where the first nodes should be close.
 */
export function* fastestProfile(path: LimitedPath, known: NodeSpacing): Task<FastestProfile> {
  let profile: Omit<FastestProfile, "limits"> | undefined;
  for (const stretches of STRETCHES) {
    const speed: SquaredSpeed | undefined = profile?.speed;
    const spacing = speed ? spacingOf(speed.nodes, timesAtNodes(speed), squaresAtNodes(speed)) : known;
    profile = yield* fastestOver(path, sharedNodes(path.knots, stretches, spacing), speed);
  }
  let limits = yield* speedLimits(path, profile!.speed);
  for (let round = 0; round < MOST_ROUNDS && 1 + PASSED < limits.factor; round++) {
    const nodes = closerNodes(profile!.speed.nodes, limits.worst, 1 + PASSED);
    profile = yield* fastestOver(path, nodes, profile!.speed);
    limits = yield* speedLimits(path, profile.speed);
  }
  return { ...profile!, limits };
}

/** Least time with b a spline over `nodes`, looked for from `near` on. */
function* fastestOver(
  path: LimitedPath,
  nodes: Float64Array,
  near?: SquaredSpeed,
): Task<Omit<FastestProfile, "limits">> {
  const rows = yield* limitRows(path, nodes);
  const room = createBarrierRoom(rows);
  const start = near ? refitted(near, nodes) : new Float64Array(nodes.length + 1).fill(1);
  const share = worstShare(rows, start, room);
  // Inside every limit: slowing down by a factor takes b down by its square.
  for (let i = 0; i < start.length; i++) start[i] *= INSIDE / (share * share);
  const settled = yield* descend(rows, start, room, near ? WARM : 1);
  return { speed: { nodes, coefficients: start }, settled };
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
