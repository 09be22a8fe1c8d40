import { xmlText } from "../base/xml-text.ts";
import { brief, niceStep, place } from "./snapshot-number.ts";

/** One curve: played times ascending [s] and what it has then; NaN where it has nothing. */
export interface GraphLine {
  readonly name: string;
  /** `before` is dashed and lies behind the others; `edge` is thin. */
  readonly kind: "now" | "before" | "edge";
  readonly t: readonly number[];
  readonly values: readonly number[];
}

export interface Graph {
  readonly title: string;
  /** What the values count in: `%`, `m`, `px`. */
  readonly unit: string;
  readonly lines: readonly GraphLine[];
  /** The axis of values reaches this at least, so that rounding does not look like a course. */
  readonly least?: number;
  /** A value that is not to be passed, with a line of its own. */
  readonly limit?: number;
  /** Key times [s]. */
  readonly keys: readonly number[];
  /** End of the axis of time [s]. */
  readonly until: number;
}

const WIDTH = 720;
const HEIGHT = 180;
const FRAME = { left: 56, right: 708, top: 38, bottom: 152 } as const;
/** Ticks upwards and of time at most. */
const TICKS = { up: 4, time: 8 } as const;
/** Least room between the numbers of two keys [px]. */
const APART = 16;

/**
 * A graph over time as an SVG for the inside of a page: its colours are those of the page's text, `--graph-line` and
 * `--graph-before`; what is of before is told by its dashes too. The same graph gives the same text.
 */
export function drawGraph(graph: Graph): string {
  const { title, unit, lines, limit, keys, until } = graph;
  const shown = [...lines.flatMap(({ values }) => values), ...(limit === undefined ? [] : [limit])];
  const finite = shown.filter(Number.isFinite);
  const most = finite.reduce((top, value) => Math.max(top, value), graph.least ?? 0);
  const least = finite.reduce((low, value) => Math.min(low, value), 0);
  const up = niceStep(Math.max(most - least, 1e-9) / TICKS.up);
  const [low, high] = [Math.floor(least / up) * up, Math.max(Math.ceil(most / up), 1) * up];
  const time = niceStep(Math.max(until, 1e-3) / TICKS.time);
  const scale: Scale = {
    x: (t) => FRAME.left + ((FRAME.right - FRAME.left) * t) / Math.max(until, 1e-3),
    y: (value) => FRAME.bottom - ((FRAME.bottom - FRAME.top) * (value - low)) / (high - low),
  };
  const sorted = [...lines].sort((one, other) => Number(other.kind === "before") - Number(one.kind === "before"));
  return [
    `<svg class="graph" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${xmlText(`${title}: ${spoken(graph)}`)}" font-size="11" fill="currentColor">`,
    `<text x="0" y="13" font-size="13" font-weight="600">${xmlText(title)}</text>`,
    ...ruled(scale, low, high, up, unit),
    ...timed(scale, until, time),
    ...keyed(scale, keys),
    ...(limit === undefined ? [] : [`<path class="graph-limit" d="M${FRAME.left} ${place(scale.y(limit))}H${FRAME.right}"/>`]), // prettier-ignore
    ...sorted.map((line) => `<path class="graph-${line.kind}" d="${course(line, scale)}"/>`),
    "</svg>",
  ].join("\n");
}

interface Scale {
  readonly x: (t: number) => number;
  readonly y: (value: number) => number;
}

function ruled({ y }: Scale, low: number, high: number, step: number, unit: string): string[] {
  const count = Math.round((high - low) / step);
  return Array.from({ length: count + 1 }, (_, i) => {
    const value = low + i * step;
    const words = `${brief(value, 6)}${i === count ? ` ${unit}` : ""}`;
    return `<path class="graph-rule" d="M${FRAME.left} ${place(y(value))}H${FRAME.right}"/><text x="${FRAME.left - 6}" y="${place(y(value) + 4)}" text-anchor="end">${xmlText(words)}</text>`;
  });
}

function timed({ x }: Scale, until: number, step: number): string[] {
  const count = Math.floor(until / step + 1e-6);
  return Array.from({ length: count + 1 }, (_, i) => {
    const words = `${brief(i * step, 3)}${i === count ? " s" : ""}`;
    return `<text x="${place(x(i * step))}" y="${FRAME.bottom + 16}" text-anchor="middle">${words}</text>`;
  });
}

function keyed({ x }: Scale, keys: readonly number[]): string[] {
  const lines = keys.map((t) => `M${place(x(t))} ${FRAME.top}V${FRAME.bottom}`).join("");
  let last = Number.NEGATIVE_INFINITY;
  const names = keys.flatMap((t, i) => {
    if (x(t) < last + APART) return [];
    last = x(t);
    return [`<text x="${place(x(t))}" y="${FRAME.top - 3}" text-anchor="middle" font-weight="600">${i + 1}</text>`];
  });
  return [`<path class="graph-key" d="${lines}"/>`, ...names];
}

/** How far a point may be off the line between its neighbours to be left out [px]. */
const FLAT = 0.15;

/** A line lifts where there is no value; points that a straight line passes anyway are left out. */
function course({ t, values }: GraphLine, { x, y }: Scale): string {
  const parts: string[] = [];
  let from: Point | undefined;
  for (let i = 0; i < t.length; i++) {
    const at = pointOf(x(t[i]), y(values[i]));
    const next = i + 1 < t.length ? pointOf(x(t[i + 1]), y(values[i + 1])) : undefined;
    if (at && from && next && isFlat(from, at, next)) continue;
    if (at) parts.push(`${from ? "L" : "M"}${place(at.x)} ${place(at.y)}`);
    from = at;
  }
  return parts.join("");
}

interface Point {
  readonly x: number;
  readonly y: number;
}

const pointOf = (x: number, y: number): Point | undefined => (Number.isFinite(y) ? { x, y } : undefined);

function isFlat(from: Point, at: Point, next: Point): boolean {
  const share = (at.x - from.x) / (next.x - from.x);
  return Math.abs(from.y + share * (next.y - from.y) - at.y) < FLAT && Math.abs(next.y - at.y) < 8;
}

/** For who does not see it: between which values each line goes. */
function spoken({ lines, unit }: Graph): string {
  const words = lines
    .filter(({ kind }) => kind !== "edge")
    .flatMap(({ name, values }) => {
      const finite = values.filter(Number.isFinite);
      if (finite.length === 0) return [];
      const [low, high] = [Math.min(...finite), Math.max(...finite)];
      return [`${name} from ${brief(low, 3)} to ${brief(high, 3)} ${unit}`];
    });
  return words.length === 0 ? "no values" : words.join("; ");
}
