import { isWhole, within, type TimeWindow } from "./time-window.ts";

/** The one window of time that all graphs share. */
export interface GraphTime {
  readonly window: TimeWindow;
  /** All the time that there is [s]. */
  readonly whole: number;
  /** What somebody asked to see; `undefined`: all of it, however long the move gets. */
  readonly asked: TimeWindow | undefined;
  /** True when that changes what is shown. */
  ask(window: TimeWindow | undefined): boolean;
  /** Of another take or another ghost. */
  setWhole(whole: number): void;
}

export function createGraphTime(): GraphTime {
  const time = {
    window: { from: 0, to: 0 } as TimeWindow,
    whole: 0,
    asked: undefined as TimeWindow | undefined,
    ask(next: TimeWindow | undefined): boolean {
      const before = time.window;
      // Before a take is there nothing is known of how much time there is.
      time.asked = next && (time.whole === 0 || !isWhole(next, time.whole)) ? next : undefined;
      place();
      return before.from !== time.window.from || before.to !== time.window.to;
    },
    setWhole(whole: number): void {
      time.whole = whole;
      place();
    },
  };
  const place = (): void => {
    time.window = time.asked ? within(time.asked, time.whole) : { from: 0, to: time.whole };
  };
  return time;
}
