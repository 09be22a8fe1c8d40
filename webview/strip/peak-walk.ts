import type { CurveSpec } from "./curve-spec.ts";
import { findPeaks, type Peak } from "./peaks.ts";
import { sampleAt } from "./samples.ts";

/** Goes from peak to peak of what is shown, the worst first. */
export interface PeakWalk {
  next(specs: readonly CurveSpec[], duration: number, step: 1 | -1): { time: number; words: string } | undefined;
  /** What was said of the last peak while the playhead stands on it; else empty. */
  wordsAt(time: number): string;
  /** Other curves are shown: it begins anew. */
  clear(): void;
}

export function createPeakWalk(): PeakWalk {
  let peaks: readonly (Peak & { readonly words: string })[] | undefined;
  let at = -1;
  return {
    next(specs, duration, step) {
      peaks ??= wordedPeaks(specs, duration);
      if (peaks.length === 0) return undefined;
      at = at < 0 ? (step > 0 ? 0 : peaks.length - 1) : (at + step + peaks.length) % peaks.length;
      return peaks[at];
    },
    wordsAt(time) {
      const peak = peaks?.[at];
      return peak && Math.abs(peak.time - time) < 1e-9 ? peak.words : "";
    },
    clear() {
      peaks = undefined;
      at = -1;
    },
  };
}

function wordedPeaks(specs: readonly CurveSpec[], duration: number): (Peak & { readonly words: string })[] {
  const lines = specs.flatMap((spec) =>
    spec.lines.flatMap((line) => {
      const { badness, extents } = line;
      return badness ? [{ spec, line, samples: extents.samples, badness }] : [];
    }),
  );
  return findPeaks(lines, duration).map((peak, n, all) => {
    const { spec, line } = lines[peak.line];
    const value = line.read(sampleAt(line.extents.samples, peak.sample));
    const words = line.say?.(peak.time) ?? "";
    const what = `${spec.title}, ${line.name} ${value}${words ? `, ${words}` : ""}`;
    return { ...peak, words: `Peak ${n + 1} of ${all.length}: ${what}.` };
  });
}
