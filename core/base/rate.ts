/** Frames per second as an exact rational, and the label's way of counting. 29.97df = { num: 30000, den: 1001, drop: true }. */
export interface Rate {
  readonly num: number;
  readonly den: number;
  /** Frames a label second counts: 24 at 23.976, 30 at 29.97. */
  readonly nominal: number;
  readonly drop: boolean;
}

const ntsc = (nominal: number, drop = false): Rate => ({ num: nominal * 1000, den: 1001, nominal, drop });
const whole = (nominal: number): Rate => ({ num: nominal, den: 1, nominal, drop: false });

/** The rates that have a name of their own. Any other whole number of frames a second up to `MAX_RATE` is a rate too. */
export const RATES: Readonly<Record<string, Rate>> = {
  "23.976": ntsc(24),
  "23.98": ntsc(24),
  "24": whole(24),
  "25": whole(25),
  "29.97": ntsc(30),
  "29.97df": ntsc(30, true),
  "30": whole(30),
  "47.952": ntsc(48),
  "47.95": ntsc(48),
  "48": whole(48),
  "50": whole(50),
  "59.94": ntsc(60),
  "59.94df": ntsc(60, true),
  "60": whole(60),
  "100": whole(100),
  "119.88": ntsc(120),
  "120": whole(120),
};

/** Frames a second above which a rate is refused. */
export const MAX_RATE = 1000;

/** The rate that `written` names, or `undefined`. */
export function parseRate(written: number | string): Rate | undefined {
  const text = String(written)
    .trim()
    .toLowerCase()
    .replace(/\s*fps$/, "");
  if (Object.hasOwn(RATES, text)) return RATES[text];
  if (!/^\d+(\.0+)?$/.test(text)) return undefined;
  const frames = Number(text);
  return 1 <= frames && frames <= MAX_RATE ? whole(frames) : undefined;
}

/** The name that `parseRate` reads back, such as `29.97df`. */
export function formatRate(rate: Rate): string {
  for (const [name, known] of Object.entries(RATES)) {
    if (known.num === rate.num && known.den === rate.den && known.drop === rate.drop) return name;
  }
  return rate.den === 1 ? String(rate.num) : `${rate.num}/${rate.den}`;
}

/** Time of frame `frame` [s], rounded once: frame 58 at 24000/1001 is 58058/24000. */
export function frameTime(rate: Rate, frame: number): number {
  return (frame * rate.den) / rate.num;
}

/** How near to a whole frame a time counts as on it [frames]: far above rounding, far below a shutter. */
const ON_FRAME = 1e-6;

/** The frame that shows time `t` [s]: the last one that has begun. A time on a frame but for rounding is on it. */
export function frameAt(rate: Rate, t: number): number {
  const exact = (t * rate.num) / rate.den;
  const nearest = Math.round(exact);
  return Math.abs(exact - nearest) < ON_FRAME ? nearest : Math.floor(exact);
}

/** The frame nearest to time `t` [s]. */
export function nearestFrame(rate: Rate, t: number): number {
  return Math.round((t * rate.num) / rate.den);
}
