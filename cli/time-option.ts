import { nearestName } from "../core/base/nearest-name.ts";
import { parseTime } from "../core/base/timecode.ts";
import type { ResolvedMove } from "../core/motion/resolved-move.ts";
import { Failure } from "./failure.ts";

/** What rounding may take a time beyond the ends of a move [s]. */
const SLACK = 1e-9;

/**
 * The played time [s] that `--at` names: as documents write times, a bare number of seconds, or the name of a key. Throws
 * `Failure` for any other, and for one outside the move.
 */
export function timeOption(written: string, { keys, rate, startFrame }: ResolvedMove, duration: number): number {
  const text = written.trim();
  const isBare = /^[+-]?(\d+\.?\d*|\.\d+)$/.test(text);
  const parsed = parseTime(isBare ? Number(text) : text, rate, startFrame);
  if (!parsed.ok) {
    const key = keys.find(({ label }) => label === text);
    if (key) return key.time;
    // Where it begins like a time, what is wrong with it as one says more.
    if (/^[+-]?\.?\d/.test(text)) throw new Failure(`--at ${parsed.message}`);
    const names = keys.map(({ label }) => label);
    const near = nearestName(text, names);
    const cure = near ? `; the nearest name is \`${near}\`` : "";
    throw new Failure(
      `--at ${written} is neither a time (\`2.4 s\`, \`60 f\`, a timecode label) nor a key of the move${cure}`,
    );
  }
  if (parsed.value < -SLACK || parsed.value > duration + SLACK) {
    throw new Failure(`--at ${written} is outside the move, which plays from 0 s to ${duration} s`);
  }
  return Math.min(Math.max(parsed.value, 0), duration);
}
