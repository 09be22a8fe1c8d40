import { unpackNumbers } from "../../protocol/codec.ts";
import type { SeriesName, StageSeries } from "../../protocol/stage-series.ts";
import { sampleBefore, shareOfWay } from "../../core/base/sampling.ts";
import type { Palette } from "../palette.ts";
import { emptyCurve, type CurveSpec, type Line } from "./curve-spec.ts";
import { createExtents, type Extents } from "./extents.ts";
import { aloneLook, lineLook } from "./line-look.ts";
import { wholeExtent } from "./line-store.ts";
import { samplesOf } from "./samples.ts";

/** Curves that somebody else computed, ready to be drawn. */
export interface OpenSeries {
  readonly name: SeriesName;
  readonly uri: string;
  readonly version: number;
  readonly problem?: string;
  readonly lines: readonly {
    readonly name: string;
    readonly extents: Extents;
    readonly limit: number;
    readonly words: readonly string[];
    readonly word?: Float64Array;
  }[];
}

export function openSeries(series: StageSeries): OpenSeries {
  const { name, uri, version } = series;
  if (!("lines" in series)) return { name, uri, version, problem: series.problem, lines: [] };
  return {
    name,
    uri,
    version,
    lines: series.lines.map((line) => ({
      name: line.name,
      limit: line.limit,
      extents: createExtents(samplesOf(unpackNumbers(line.t), unpackNumbers(line.values))),
      words: line.words ?? [],
      word: line.word && unpackNumbers(line.word),
    })),
  };
}

const KINDS = {
  clearance: { title: "Clearance", unit: "m", what: "Least distance over the move", read: readDistance, lowest: true },
  passes: {
    title: "Pass error, 95 % radius",
    unit: "px",
    what: "How far passes may be off the first over the move",
    read: (px: number) => (Number.isFinite(px) ? `${px.toFixed(2)} px` : "–"),
    lowest: false,
  },
} as const;

/** Where a distance is many times what is asked for, how many times is of no interest. */
const CLEARANCE_TIMES = 6;
/** And so far nothing is hidden [m]. */
const CLEARANCE_SHOWN = 0.4;

/** @param series `undefined` while it is waited for. */
export function seriesGraph(name: SeriesName, series: OpenSeries | undefined, palette: Palette): CurveSpec {
  const { title, unit, what, read, lowest } = KINDS[name];
  if (!series) return emptyCurve(title, "Being computed …");
  if (series.problem !== undefined) return emptyCurve(title, series.problem);
  const lines = series.lines.map(({ name: of, extents, limit, words, word }, n): Line => {
    const nearest = (time: number): string => (word ? (words[word[nearestSample(extents, time)]] ?? "") : "");
    return {
      name: of,
      extents,
      ...(series.lines.length === 1 ? aloneLook(palette) : lineLook(n, palette)),
      read,
      say: nearest,
      // The nearer the worse, and worse still what overlaps.
      badness: (value) => (lowest ? Math.exp(1 - value / Math.max(limit, 1e-3)) : value / limit),
    };
  });
  const limits = [...new Set(series.lines.map(({ limit }) => limit))];
  const ends = lines.map(({ name: of, extents }) => {
    const { low, high } = wholeExtent(extents);
    return `${of} ${read(lowest ? low : high)}`;
  });
  const nearest = Math.min(...lines.map(({ extents }) => wholeExtent(extents).low));
  const ceiling = lowest ? Math.max(CLEARANCE_SHOWN, CLEARANCE_TIMES * Math.max(...limits), 1.5 * nearest) : Infinity;
  const isCut = lines.some(({ extents }) => wholeExtent(extents).high > ceiling);
  return {
    title: isCut ? `${title}, drawn up to ${read(ceiling)}` : title,
    unit,
    lines,
    levels: limits.map((at) => ({ at, name: `${lowest ? "least" : "allowed"} ${read(at)}` })),
    bands: [],
    ceiling,
    words: `${what}: ${ends.join(", ")}; ${lowest ? "asked for" : "allowed"} ${limits.map(read).join(" and ")}.`,
  };
}

function nearestSample({ samples: { times } }: Extents, time: number): number {
  const i = sampleBefore(times, time);
  return Math.min(shareOfWay(times, i, time) > 0.5 ? i + 1 : i, times.length - 1);
}

/** Below a metre in millimetres, as findings tell it. */
function readDistance(distance: number): string {
  if (!Number.isFinite(distance)) return "–";
  return Math.abs(distance) < 1 ? `${Number((distance * 1000).toFixed(1))} mm` : `${distance.toFixed(2)} m`;
}
