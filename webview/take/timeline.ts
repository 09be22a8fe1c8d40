import type { Rate } from "../../core/base/rate.ts";

/** A time that lies this close before a frame counts as on it: times are sums of decimal seconds. */
const FRAME_SLACK = 1e-6;

/** Frame shown at `t` [s], counted from 0: the last one that has begun. */
export function frameAt(t: number, rate: Rate): number {
  return Math.max(0, Math.floor((t * rate.num) / rate.den + FRAME_SLACK));
}

/** When a frame begins [s]. */
export function timeOfFrame(frame: number, rate: Rate): number {
  return (frame * rate.den) / rate.num;
}

/** The last frame that begins within the move. */
export function lastFrame(duration: number, rate: Rate): number {
  return frameAt(duration, rate);
}

/**
 * The time `frames` frames on (back when negative), always at the beginning of a frame but for the end of the move.
 * From between two frames, one step back is the beginning of the frame that shows.
 */
export function stepTime(t: number, frames: number, duration: number, rate: Rate): number {
  const frame = frameAt(t, rate);
  const between = t - timeOfFrame(frame, rate) > (FRAME_SLACK * rate.den) / rate.num;
  const next = frame + frames + (frames < 0 && between ? 1 : 0);
  if (next > lastFrame(duration, rate)) return duration;
  return clampTime(timeOfFrame(Math.max(0, next), rate), duration);
}

export function clampTime(t: number, duration: number): number {
  return Number.isFinite(t) ? Math.min(Math.max(0, t), duration) : 0;
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
  for (let i = 0; i < times.length; i++) if (times[i] <= t + FRAME_SLACK) passed = i;
  return passed;
}

/** The next key after `t`, or the last before it; -1 when there is none. */
export function neighbourKey(t: number, times: readonly number[], towards: "next" | "previous"): number {
  if (towards === "next") return times.findIndex((time) => time > t + FRAME_SLACK);
  for (let i = times.length - 1; i >= 0; i--) if (times[i] < t - FRAME_SLACK) return i;
  return -1;
}
