import { accept, refuse, type Parsed } from "./parsed.ts";
import { formatRate, frameTime, type Rate } from "./rate.ts";
import { parseQuantity, within } from "./units.ts";

// SMPTE ST 12-1 labels. A drop rate leaves out the first labels of each minute but every tenth: two at 29.97, four at
// 59.94, so that 10 minutes of labels hold 17982 or 35964 frames.

const LABEL = /^(-?)(\d{1,3}):(\d{1,2}):(\d{1,2})([:;.])(\d{1,3})$/;

const dropped = (rate: Rate): number => (rate.drop ? rate.nominal / 15 : 0);
const framesPerTenMinutes = (rate: Rate): number => rate.nominal * 600 - dropped(rate) * 9;

/** Frames in 24 hours of labels: where they begin again. */
export const framesPerDay = (rate: Rate): number => framesPerTenMinutes(rate) * 144;

/** True for text that is meant as a label, right or wrong. */
export function looksLikeTimecode(text: string): boolean {
  return /^-?\d+[:;]\d+[:;]/.test(text.trim());
}

/** The frame that a label counts, 0 for 00:00:00:00. Refused with a cure: the wrong last mark, a label that is dropped. */
export function parseTimecode(text: string, rate: Rate): Parsed<number> {
  const label = text.trim();
  const match = LABEL.exec(label);
  if (!match || match[1] === "-") {
    return refuse("wrong-type", `\`${label}\` is not a timecode label, which is written \`hh:mm:ss${mark(rate)}ff\``);
  }
  const [hours, minutes, seconds, frames] = [match[2], match[3], match[4], match[6]].map(Number);
  if (hours > 23 || minutes > 59 || seconds > 59 || frames >= rate.nominal) {
    const bounds = `hours to 23, minutes and seconds to 59, frames to ${rate.nominal - 1} at ${formatRate(rate)}`;
    return refuse("bad-number", `\`${label}\` is not a label: ${bounds}`);
  }
  const cured = written(hours, minutes, seconds, frames, rate);
  if (match[5] !== mark(rate)) {
    const why = rate.drop ? `a drop rate, \`;\` stands` : `not a drop rate, \`:\` stands`;
    return refuse("bad-number", `\`${label}\`: ${formatRate(rate)} is ${why} before the frames: \`${cured}\``, cured);
  }
  const skip = dropped(rate);
  if (seconds === 0 && frames < skip && minutes % 10 !== 0) {
    const next = written(hours, minutes, 0, skip, rate);
    return refuse(
      "bad-number",
      `\`${label}\` does not exist: it is dropped at ${formatRate(rate)}; next is \`${next}\``,
      next,
    );
  }
  const total = hours * 60 + minutes;
  return accept((total * 60 + seconds) * rate.nominal + frames - skip * (total - Math.floor(total / 10)));
}

/** The label of a frame, counted from 00:00:00:00 and beginning again after 24 hours. `frame` is a whole number. */
export function formatTimecode(frame: number, rate: Rate): string {
  const day = framesPerDay(rate);
  const counted = ((frame % day) + day) % day;
  const tens = Math.floor(counted / framesPerTenMinutes(rate));
  const rest = counted % framesPerTenMinutes(rate);
  const skip = dropped(rate);
  // The first minute of ten is whole, each of the others lacks `skip` labels.
  const minute = rest < rate.nominal * 60 ? 0 : 1 + Math.floor((rest - rate.nominal * 60) / (rate.nominal * 60 - skip));
  const label = counted + skip * (tens * 9 + minute);
  const seconds = Math.floor(label / rate.nominal);
  return written(Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60, label % rate.nominal, rate);
}

const mark = (rate: Rate): string => (rate.drop ? ";" : ":");
const two = (value: number): string => String(value).padStart(2, "0");
const written = (h: number, m: number, s: number, f: number, rate: Rate): string =>
  `${two(h)}:${two(m)}:${two(s)}${mark(rate)}${two(f)}`;

const FRAMES = /^([+-]?(?:\d+\.?\d*|\.\d+))\s*f(?:rames?)?$/;

/**
 * A written time in seconds from the start of the move: `2.4 s`, a bare number of seconds, `60 f`, or a label less
 * `startFrame`. Negative results are returned as they are: what they mean is the caller's to say.
 */
export function parseTime(text: number | string, rate: Rate, startFrame: number): Parsed<number> {
  if (typeof text === "number") return parseQuantity(text, "time");
  if (looksLikeTimecode(text)) {
    const label = parseTimecode(text, rate);
    return label.ok ? accept(frameTime(rate, label.value - startFrame)) : label;
  }
  const frames = FRAMES.exec(text.trim());
  if (frames) return within(frameTime(rate, Number(frames[1])), text.trim(), "time");
  const parsed = parseQuantity(text, "time");
  if (parsed.ok) return parsed;
  return {
    ...parsed,
    message: parsed.message.replace("is expected", "is expected, or frames (`60 f`), or a timecode label"),
  };
}
