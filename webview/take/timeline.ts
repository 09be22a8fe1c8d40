import { frameAt, frameTime, type Rate } from "../../core/base/rate.ts";

/** A time this close to a key counts as on it [s]: times are sums of decimal seconds. */
const ON_KEY = 1e-6;

/** The last frame that begins within the move. */
export function lastFrame(duration: number, rate: Rate): number {
  return frameAt(rate, duration);
}

/**
 * The time `frames` frames on (back when negative), always at the beginning of a frame but for the end of the move.
 * From between two frames, one step back is the beginning of the frame that shows.
 */
export function stepTime(t: number, frames: number, duration: number, rate: Rate): number {
  const frame = frameAt(rate, t);
  const between = frameAt(rate, t - 1e-5 * frameTime(rate, 1)) === frame;
  const next = frame + frames + (frames < 0 && between ? 1 : 0);
  if (next > lastFrame(duration, rate)) return duration;
  return clampTime(frameTime(rate, Math.max(0, next)), duration);
}

export function clampTime(t: number, duration: number): number {
  return Number.isNaN(t) ? 0 : Math.min(Math.max(0, t), duration);
}

/** Where playing has come to after `elapsed` seconds of the clock; `ended` when it reached the end and does not loop. */
export function advance(
  t: number,
  elapsed: number,
  options: { readonly speed: number; readonly duration: number; readonly loop: boolean },
): { readonly t: number; readonly ended: boolean } {
  const next = t + elapsed * options.speed;
  if (next < options.duration) return { t: Math.max(0, next), ended: false };
  if (!options.loop || options.duration <= 0) return { t: options.duration, ended: true };
  return { t: next % options.duration, ended: false };
}

/** Index of the key that `t` stands on or has last passed; -1 before the first. */
export function keyPassed(t: number, times: readonly number[]): number {
  let passed = -1;
  for (let i = 0; i < times.length; i++) if (times[i] <= t + ON_KEY) passed = i;
  return passed;
}

/** The next key after `t`, or the last before it; -1 when there is none. */
export function neighbourKey(t: number, times: readonly number[], towards: "next" | "previous"): number {
  if (towards === "next") return times.findIndex((time) => time > t + ON_KEY);
  for (let i = times.length - 1; i >= 0; i--) if (times[i] < t - ON_KEY) return i;
  return -1;
}
