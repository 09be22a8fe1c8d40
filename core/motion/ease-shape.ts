import { bezierAt, usableHandles } from "./ease-bezier.ts";
import type { Piecewise } from "./piecewise.ts";
import { writeQuintic, type EndState } from "./quintic.ts";
import type { ResolvedEase } from "./resolved-move.ts";

/** Pieces of a fitted curve are this near to it, as a share of its rise. Pinned by `ease-shape.test.ts`. */
const FITS = 1e-8;
/** And no shorter than this share of the whole. */
const SHORTEST = 2 ** -24;
/** Shortest ramp, as a share of the whole. */
const LEAST_RAMP = 1e-4;
/** Where the fit is looked at, as shares of a piece. */
const PROBES = [0.15, 0.3, 0.5, 0.7, 0.85];

/** Ramps of a cubic whose text gives none, as a share of its time. */
export const CUBIC_RAMP = 0.1;

const AT_REST: EndState = { value: 0, speed: 0, accel: 0 };
const ARRIVED: EndState = { value: 1, speed: 0, accel: 0 };

/**
 * The C2 curve from 0 at time 0 to 1 at `length` [s], at rest at both ends, in quintic pieces. A ramp that is longer than
 * half the time is cut to it.
 *
 * @param length More than 0.
 */
export function easeShape(ease: ResolvedEase, length: number): Piecewise {
  if (ease.kind === "linear") return linearShape(length, rampWithin(ease.ramp, length));
  if (ease.kind === "cubic") return cubicShape(ease, length);
  return piecesThrough([0, length], [AT_REST, ARRIVED]);
}

/** The ramp that is used of the one that is asked for, both in s. */
function rampWithin(ramp: number | undefined, length: number): number {
  const asked = ramp !== undefined && Number.isFinite(ramp) ? Math.max(0, ramp) : CUBIC_RAMP * length;
  // Without any ramp the speed would step.
  return Math.min(Math.max(asked, LEAST_RAMP * length), length / 2);
}

/**
 * Constant speed v = 1 / (T - r) between ramps of length r, in which the speed goes as v (3 s² - 2 s³) and so the value as
 * v r (s³ - s⁴/2): a ramp covers half of what constant speed would.
 */
function linearShape(length: number, ramp: number): Piecewise {
  const speed = 1 / (length - ramp);
  const rise = speed * ramp;
  const cruise = length - 2 * ramp;
  const up = [0, 0, 0, rise, -rise / 2, 0];
  // The mirror of `up`, 1 - up(1 - s).
  const down = [1 - rise / 2, rise, 0, -rise, rise / 2, 0];
  const middle = cruise <= 1e-9 * length ? [] : [rise / 2, speed * cruise, 0, 0, 0, 0];
  const times = middle.length === 0 ? [0, ramp, length] : [0, ramp, ramp + cruise, length];
  return { degree: 5, times: Float64Array.from(times), coefficients: Float64Array.of(...up, ...middle, ...down) };
}

function cubicShape(ease: Extract<ResolvedEase, { kind: "cubic" }>, length: number): Piecewise {
  const handles = usableHandles(ease.handles);
  const ramp = rampWithin(ease.ramp, length);
  const stateAt = (time: number): EndState => {
    const { value, speed, accel } = bezierAt(handles, time / length);
    return { value, speed: speed / length, accel: accel / length ** 2 };
  };
  const times = [0, ramp];
  const states = [AT_REST, stateAt(ramp)];
  const ends = [length - ramp];
  while (0 < ends.length && ramp < length - ramp) {
    const from = times[times.length - 1];
    const to = ends[ends.length - 1];
    const state = stateAt(to);
    if (to - from <= SHORTEST * length || fits(handles, length, from, to, states[states.length - 1], state)) {
      times.push(to);
      states.push(state);
      ends.pop();
    } else ends.push((from + to) / 2);
  }
  return piecesThrough([...times, length], [...states, ARRIVED]);
}

function fits(
  handles: Parameters<typeof bezierAt>[0],
  length: number,
  from: number,
  to: number,
  left: EndState,
  right: EndState,
): boolean {
  const c = new Float64Array(6);
  writeQuintic(left, right, to - from, c, 0);
  return PROBES.every((s) => {
    const value = c.reduceRight((sum, next) => sum * s + next, 0);
    return Math.abs(value - bezierAt(handles, (from + s * (to - from)) / length).value) <= FITS;
  });
}

function piecesThrough(times: readonly number[], states: readonly EndState[]): Piecewise {
  const coefficients = new Float64Array(6 * (times.length - 1));
  for (let i = 0; i + 1 < times.length; i++) {
    writeQuintic(states[i], states[i + 1], times[i + 1] - times[i], coefficients, 6 * i);
  }
  return { degree: 5, times: Float64Array.from(times), coefficients };
}
