import type { Rate } from "../core/base/rate.ts";
import { advance, clampTime, stepTime } from "./take/timeline.ts";

/** The clock that pictures are drawn to: a browser's, or a test's. Times in ms. */
export interface Clock {
  request(tick: (now: number) => void): number;
  cancel(handle: number): void;
}

export interface Player {
  readonly time: number;
  readonly playing: boolean;
  readonly speed: number;
  readonly loop: boolean;
  /** The move that is played, standing at `time`, or at its end when it is shorter. */
  load(duration: number, rate: Rate, time: number): void;
  play(): void;
  pause(): void;
  seek(t: number): void;
  step(frames: number): void;
  setSpeed(speed: number): void;
  setLoop(loop: boolean): void;
}

/** Longest time of the clock that one picture may take the move on [s]: after a stall the move goes on from where it was. */
const LONGEST_STEP = 0.25;

/**
 * Plays time. Asks for pictures only while it plays.
 *
 * @param changed Called after the time or one of the settings has changed; `tick` while playing.
 */
export function createPlayer(clock: Clock, changed: (cause: "tick" | "moved" | "setting") => void): Player {
  let duration = 0;
  let rate: Rate = { num: 25, den: 1, nominal: 25, drop: false };
  let handle: number | undefined;
  let last: number | undefined;
  const tick = (now: number): void => {
    handle = clock.request(tick);
    const elapsed = last === undefined ? 0 : Math.min((now - last) / 1000, LONGEST_STEP);
    last = now;
    const next = advance(player.time, Math.max(0, elapsed), { speed: player.speed, duration, loop: player.loop });
    player.time = next.t;
    if (next.ended) player.pause();
    else changed("tick");
  };
  const player = {
    time: 0,
    playing: false,
    speed: 1,
    loop: false,
    load(newDuration: number, newRate: Rate, time: number): void {
      duration = newDuration;
      rate = newRate;
      player.time = clampTime(time, duration);
      if (duration <= 0 && player.playing) player.pause();
    },
    play(): void {
      if (player.playing || duration <= 0) return;
      if (player.time >= duration) player.time = 0;
      player.playing = true;
      last = undefined;
      handle = clock.request(tick);
      changed("setting");
    },
    pause(): void {
      if (!player.playing) return;
      player.playing = false;
      if (handle !== undefined) clock.cancel(handle);
      handle = undefined;
      changed("moved");
    },
    seek(t: number): void {
      player.time = clampTime(t, duration);
      changed("moved");
    },
    step(frames: number): void {
      if (player.playing) player.pause();
      player.seek(stepTime(player.time, frames, duration, rate));
    },
    setSpeed(speed: number): void {
      player.speed = speed;
      changed("setting");
    },
    setLoop(loop: boolean): void {
      player.loop = loop;
      changed("setting");
    },
  };
  return player;
}
