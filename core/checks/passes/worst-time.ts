import { isWorse, type Peak } from "../scan/peak.ts";
import { SCAN_TIME } from "../thresholds.ts";

/** When a sampled value is highest, looked for between the samples too [s]; `undefined` for one that is NaN everywhere. */
export function worstTime(t: Float64Array, row: Float64Array, at: (t: number) => number): number | undefined {
  let best: Peak | undefined;
  for (let i = 0; i < row.length; i++) {
    if (!Number.isNaN(row[i]) && (!best || isWorse(row[i], best.value))) best = { t: t[i], value: row[i] };
  }
  if (!best) return undefined;
  for (let i = 1; i + 1 < row.length; i++) {
    const [before, after] = [row[i - 1], row[i + 1]];
    if (row[i] < before || row[i] < after) continue;
    // A parabola through three samples rises above the middle one by an eighth of what that rises over the lower one at most.
    const rise = row[i] - Math.min(before, after);
    if (!(rise > 0) || !isWorse(row[i] + rise / 2, best.value)) continue;
    const peak = topOf([t[i - 1], t[i], t[i + 1]], [before, row[i], after], at);
    if (isWorse(peak.value, best.value)) best = peak;
  }
  return best.t;
}

/** Vertices of parabolas that are looked at for one peak: each is nearer by orders. */
const MOST_TOPS = 4;

/** The highest of what is looked at around a sample that is no lower than its neighbours. */
function topOf(times: [number, number, number], values: [number, number, number], at: (t: number) => number): Peak {
  for (let step = 0; step < MOST_TOPS; step++) {
    const [[a, b, c], [fa, fb, fc]] = [times, values];
    const [left, right] = [(b - a) * (fb - fc), (b - c) * (fb - fa)];
    const top = b - (0.5 * ((b - a) * left - (b - c) * right)) / (left - right);
    if (!(a < top && top < c) || Math.abs(top - b) < SCAN_TIME) break;
    const value = at(top);
    if (value >= fb) {
      times = top < b ? [a, top, b] : [b, top, c];
      values = top < b ? [fa, value, fb] : [fb, value, fc];
    } else {
      times = top < b ? [top, b, c] : [a, b, top];
      values = top < b ? [value, fb, fc] : [fa, fb, value];
    }
  }
  return { t: times[1], value: values[1] };
}
