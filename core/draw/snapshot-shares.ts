import { xmlText } from "../base/xml-text.ts";
import { above, brief, niceStep, place, steady } from "./snapshot-number.ts";
import type { Sample, Samples, SnapshotAxis, SnapshotPeak } from "./snapshot-samples.ts";
import { INK, SHARE_LINES, shareStroke } from "./snapshot-style.ts";

/** Height of an axis's lane, of which the limit is at 4/5, and the room between two [px]. */
const LANE = 60;
const GAP = 14;
/** An axis that takes no more of any limit rests, and has no lane. */
export const REST = 1e-6;
/** Share at which a lane ends. */
const TOP = 1.25;
/** Most ticks of time. */
const TICKS = 8;
/** Least room between the numbers of two keys [px]. */
const APART = 17;
/** Letters of a name that there is room for. */
const LETTERS = 16;

export interface Lanes {
  readonly svg: string;
  readonly bottom: number;
}

/** For each axis that moves and has limits, how much of them it takes over time, one lane under the other. */
export function drawShares(samples: Samples, duration: number, left: number, right: number, top: number): Lanes {
  const axes = samples.axes.filter(({ peaks }) => peaks.some(({ order, share }) => order > 0 && share > REST));
  if (axes.length === 0) {
    const words = "No axis that moves has a limit of speed, acceleration or jerk.";
    return { svg: `<text x="24" y="${top + 14}" fill="${INK.text}">${words}</text>`, bottom: top + 24 };
  }
  const tick = niceStep(Math.max(duration, 1e-3) / TICKS);
  const ticks = Math.max(1, above(duration / tick));
  const x = (t: number): number => left + ((right - left) * t) / (ticks * tick);
  const bottom = top + axes.length * (LANE + GAP) - GAP;
  const lanes = axes.map((axis, i) => drawLane(axis, samples, x, right, top + i * (LANE + GAP)));
  return { svg: [timeMarks(samples.atKeys, x, top, bottom, tick, ticks), ...lanes].join("\n"), bottom: bottom + 30 };
}

function timeMarks(
  keys: readonly Sample[],
  x: (t: number) => number,
  top: number,
  bottom: number,
  tick: number,
  ticks: number,
): string {
  const times = Array.from({ length: ticks + 1 }, (_, i) => {
    const words = `${brief(i * tick, 3)}${i === ticks ? " s" : ""}`;
    return `<text x="${place(x(i * tick))}" y="${bottom + 14}" font-size="10" text-anchor="middle" fill="${INK.quiet}">${words}</text>`;
  });
  const lines = keys.map(({ t }) => `M${place(x(t))} ${top}V${bottom}`);
  let last = Number.NEGATIVE_INFINITY;
  const names = keys.flatMap(({ t }, i) => {
    if (x(t) < last + APART) return [];
    last = x(t);
    return [
      `<text x="${place(x(t))}" y="${top - 5}" font-size="11" font-weight="600" text-anchor="middle" fill="${INK.text}">${i + 1}</text>`,
    ];
  });
  return [
    `<path fill="none" stroke="${INK.frame}" stroke-dasharray="2 3" d="${lines.join("")}"/>`,
    ...names,
    ...times,
  ].join("\n");
}

function drawLane(
  { index, name, peaks }: SnapshotAxis,
  samples: Samples,
  x: (t: number) => number,
  right: number,
  top: number,
): string {
  const y = (share: number): number => top + LANE * (1 - Math.min(share, TOP) / TOP);
  const left = x(0);
  const worst = worstRate(peaks);
  const letters = [...name];
  const title = letters.length > LETTERS ? `${letters.slice(0, LETTERS - 1).join("")}…` : name;
  const lines = SHARE_LINES.map((line, k) => {
    const ways = samples.ways.map((way) => shareLine(way, index, k, x, y)).filter((way) => way !== "");
    return ways.length === 0 ? "" : `<path ${shareStroke(line)} d="\n${ways.join("\n")}\n"/>`;
  });
  return [
    `<text x="24" y="${top + 16}" font-weight="600" fill="${INK.text}">${xmlText(title)}</text>`,
    ...(worst ? [`<text x="24" y="${top + 32}" font-size="11" fill="${INK.quiet}">${worstText(worst)}</text>`] : []),
    ...(worst && worst.share > 1
      ? [`<text x="24" y="${top + 47}" font-size="11" font-weight="600" fill="${INK.limit}">over the limit</text>`]
      : []),
    `<path fill="none" stroke="${INK.frame}" d="M${place(left)} ${top + LANE}H${right}"/>`,
    `<path fill="none" stroke="${INK.limit}" stroke-dasharray="10 4" d="M${place(left)} ${place(y(1))}H${right}"/>`,
    ...lines.filter((line) => line !== ""),
    ...(worst ? [worstMark(worst, x, y)] : []),
  ].join("\n");
}

function shareLine(
  way: readonly Sample[],
  axis: number,
  k: number,
  x: (t: number) => number,
  y: (share: number) => number,
): string {
  const points = way.flatMap((sample) => {
    const share = sample.shares[axis][k];
    return Number.isNaN(share) ? [] : [`${place(x(sample.t))} ${place(y(share))}`];
  });
  return points.length === 0 ? "" : `M${points.join("L")}`;
}

/** The peak of a rate that is highest; of those alike the first of speed, acceleration and jerk. */
export function worstRate(peaks: readonly SnapshotPeak[]): SnapshotPeak | undefined {
  const rates = peaks.filter(({ order }) => order > 0);
  return rates.reduce<SnapshotPeak | undefined>(
    (worst, peak) => (!worst || peak.share > worst.share * (1 + 1e-9) ? peak : worst),
    undefined,
  );
}

/** `96.2 % of speed`. */
export function worstText({ share, order }: SnapshotPeak): string {
  return `${percentText(share)} of ${["range", "speed", "acceleration", "jerk"][order]}`;
}

/** `96.2 %`. */
export const percentText = (share: number): string =>
  Number.isFinite(share) ? `${steady(share * 100, 1)} %` : "unbounded";

/** A diamond at the highest share; a filled one where it is over the limit. */
function worstMark({ share, t = 0 }: SnapshotPeak, x: (t: number) => number, y: (share: number) => number): string {
  const fill = share > 1 ? INK.limit : INK.paper;
  return `<path fill="${fill}" stroke="${INK.text}" stroke-width="1.2" d="M${place(x(t) - 5)} ${place(y(share))}l5 -5 5 5 -5 5z"/>`;
}
