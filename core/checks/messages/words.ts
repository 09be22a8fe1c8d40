import { comparedFigures, seconds, secondsUp } from "../figures.ts";
import type { Finding } from "../finding.ts";

/**
 * The message of a finding without its full stop: where, the value, what is allowed, the cure.
 *
 * @param at ` at 00:00:02:10 (frame 58)`, with how often it happens; empty for a finding without a time.
 */
export type Words = (finding: Finding, at: string) => string;

/** Measured value and limit, with digits enough to tell them apart. */
export const figures = (f: Finding): [string, string] =>
  comparedFigures(f.measured ?? NaN, f.limit ?? NaN, f.dimension ?? "number");

/** A fact by its name as text, empty without it. */
export const text = (f: Finding, name: string): string => String(f.facts[name] ?? "");

/** A fact by its name as a number in SI, NaN without it. */
export const number = (f: Finding, name: string): number => Number(f.facts[name] ?? NaN);

/** `stretch the 2 s from a to b to about 2.81 s`, from the facts of a segment; `undefined` where no time would do. */
export function stretchWords(f: Finding): string | undefined {
  const [now, then] = [number(f, "segment"), number(f, "stretched")];
  if (!(now > 0) || !Number.isFinite(then)) return undefined;
  return `stretch the ${seconds(now)} from ${text(f, "fromKey")} to ${text(f, "toKey")} to about ${secondsUp(then)}`;
}
