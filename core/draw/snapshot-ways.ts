import type { Vec2, Vec3 } from "../base/vec3.ts";
import { xmlText } from "../base/xml-text.ts";
import type { Rectangle } from "./eye.ts";
import { drawMarks, isPlaced, pair, type Grid, type Panel, type ShownTarget } from "./snapshot-marks.ts";
import { above, below, brief, niceStep, place } from "./snapshot-number.ts";
import type { Sample, Samples } from "./snapshot-samples.ts";
import { INK } from "./snapshot-style.ts";

/** Room round what is shown, in squares of the grid. */
const MARGIN = 0.3;
/** A move at rest is not drawn larger than this a square [m]. */
const LEAST_STEP = 0.01;

/** The way of the entrance pupil from above and from the side, in one scale, on a grid that small changes leave as it is. */
export function drawWays(
  samples: Samples,
  targets: readonly ShownTarget[],
  areas: readonly [Rectangle, Rectangle],
): string {
  const points = [...samples.ways.flat(), ...samples.atKeys].map(({ at }) => at).concat(targets.map(({ at }) => at));
  const panels: readonly Panel[] = [
    { name: "From above: x to the right, y up", right: 0, up: 1, area: areas[0] },
    { name: "From the side: x to the right, z up", right: 0, up: 2, area: areas[1] },
  ];
  const step = stepFor(points, areas[0]);
  return panels.map((panel) => drawPanel(panel, samples, targets, gridOf(panel, points, step), step)).join("\n");
}

/** Side of a square of the grid on the page [px]. */
const SQUARE = 56;

/** A square's side in the set [m], the smallest round one with which all points have room. */
function stepFor(points: readonly Vec3[], { left, right, top, bottom }: Rectangle): number {
  const most = [(right - left) / SQUARE, (bottom - top) / SQUARE, (bottom - top) / SQUARE];
  const spans = [0, 1, 2].map((k) => spanOf(points, k));
  const wide = Math.max(...spans.map(([low, high], k) => (high - low) / most[k]), LEAST_STEP);
  for (let step = niceStep(wide); ; step = niceStep(step * 1.1)) {
    if (spans.every((span, k) => squares(span, step)[1] <= most[k])) return step;
  }
}

function spanOf(points: readonly Vec3[], k: number): readonly [number, number] {
  const values = points.map((point) => point[k]).filter(Number.isFinite);
  if (values.length === 0) return [0, 0];
  return [values.reduce((low, value) => Math.min(low, value)), values.reduce((high, value) => Math.max(high, value))];
}

/** The first square that a span needs, and how many. */
function squares([low, high]: readonly [number, number], step: number): readonly [number, number] {
  const first = below(low / step - MARGIN);
  return [first, above(high / step + MARGIN) - first];
}

function gridOf({ right, up, area }: Panel, points: readonly Vec3[], step: number): Grid {
  const count = [Math.round((area.right - area.left) / SQUARE), Math.round((area.bottom - area.top) / SQUARE)] as const;
  const first = [right, up].map((k, side) => {
    const [from, needed] = squares(spanOf(points, k), step);
    return from - Math.floor((count[side] - needed) / 2);
  }) as unknown as readonly [number, number];
  const page = (point: Vec3): Vec2 => [
    area.left + (point[right] / step - first[0]) * SQUARE,
    area.bottom - (point[up] / step - first[1]) * SQUARE,
  ];
  return { page, first, count };
}

function drawPanel(panel: Panel, samples: Samples, targets: readonly ShownTarget[], grid: Grid, step: number): string {
  const { area, name } = panel;
  const frame = `<rect x="${area.left}" y="${area.top}" width="${area.right - area.left}" height="${area.bottom - area.top}" fill="none" stroke="${INK.frame}"/>`;
  const head = `<text x="${area.left}" y="${area.top - 8}" fill="${INK.text}">${xmlText(`${name}; a square is ${brief(step, 3)} m`)}</text>`;
  const ways = samples.ways.map((way) => wayLine(way, grid));
  return [
    head,
    gridLines(panel, grid, step),
    frame,
    `<path fill="none" stroke="${INK.way}" stroke-width="2.2" stroke-linejoin="round" d="`,
    ...ways,
    `"/>`,
    ...drawMarks(panel, samples.atKeys, targets, grid),
  ].join("\n");
}

/** A line of text for each way from key to key, so that a change of one shows in one. */
function wayLine(way: readonly Sample[], grid: Grid): string {
  const written = way.filter(isPlaced).map(({ at }) => pair(grid.page(at)));
  const kept = written.filter((one, i) => i === 0 || one !== written[i - 1]);
  return kept.length === 0 ? "" : `M${kept.join("L")}`;
}

function gridLines({ area }: Panel, { first, count }: Grid, step: number): string {
  const lines: string[] = [];
  const words: string[] = [];
  for (let i = 0; i <= count[0]; i++) {
    const x = area.left + i * SQUARE;
    if (0 < i && i < count[0]) lines.push(`M${x} ${area.top}V${area.bottom}`);
    if (i % 2 === 1) words.push(small(x, area.bottom + 13, "middle", brief((first[0] + i) * step, 3)));
  }
  for (let i = 0; i <= count[1]; i++) {
    const y = area.bottom - i * SQUARE;
    if (0 < i && i < count[1]) lines.push(`M${area.left} ${y}H${area.right}`);
    if (i % 2 === 1) words.push(small(area.left - 4, y + 4, "end", brief((first[1] + i) * step, 3)));
  }
  return `<path fill="none" stroke="${INK.grid}" d="${lines.join("")}"/>\n${words.join("\n")}`;
}

const small = (x: number, y: number, anchor: string, words: string): string =>
  `<text x="${place(x)}" y="${place(y)}" font-size="10" text-anchor="${anchor}" fill="${INK.quiet}">${xmlText(words)}</text>`;
