import type { Vec2, Vec3 } from "../base/vec3.ts";
import { xmlText } from "../base/xml-text.ts";
import type { Rectangle } from "./eye.ts";
import { placeLabels } from "./labels.ts";
import { above, below, brief, niceStep, place } from "./snapshot-number.ts";
import type { Sample, Samples } from "./snapshot-samples.ts";
import { INK } from "./snapshot-style.ts";

/** Room round what is shown, in squares of the grid. */
const MARGIN = 0.3;
/** A move at rest is not drawn larger than this a square [m]. */
const LEAST_STEP = 0.01;
/** Length of the mark that says where the camera looks, and how near keys share a name [px]. */
const VIEW = 20;
const NEAR = 9;

/** A view of the set along one of its directions: which coordinates go to the right and up. */
interface Panel {
  readonly name: string;
  readonly right: 0 | 1;
  readonly up: 1 | 2;
  readonly area: Rectangle;
}

/** A target that the move looks at or focuses on, at its start. */
export interface ShownTarget {
  readonly name: string;
  readonly at: Vec3;
}

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
  return values.length === 0 ? [0, 0] : [Math.min(...values), Math.max(...values)];
}

/** The first square that a span needs, and how many. */
function squares([low, high]: readonly [number, number], step: number): readonly [number, number] {
  const first = below(low / step - MARGIN);
  return [first, above(high / step + MARGIN) - first];
}

/** Where the set's places are on the page. */
interface Grid {
  readonly page: (point: Vec3) => Vec2;
  /** Number of the square at the left, and at the bottom. */
  readonly first: readonly [number, number];
  readonly count: readonly [number, number];
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
  const groups = groupKeys(panel, samples.atKeys, grid);
  return [
    head,
    gridLines(panel, grid, step),
    frame,
    ...targets.map((target) => targetMark(target, grid)),
    `<path fill="none" stroke="${INK.way}" stroke-width="2.2" stroke-linejoin="round" d="`,
    ...ways,
    `"/>`,
    ...groups.map(keyMark),
    ...names(groups, targets, panel, grid),
  ].join("\n");
}

/** A line of text for each way from key to key, so that a change of one shows in one. */
function wayLine(way: readonly Sample[], grid: Grid): string {
  const written = way.filter(isPlaced).map(({ at }) => pair(grid.page(at)));
  const kept = written.filter((one, i) => i === 0 || one !== written[i - 1]);
  return kept.length === 0 ? "" : `M${kept.join("L")}`;
}

const isPlaced = ({ at }: Pick<Sample, "at">): boolean => at.every(Number.isFinite);
const pair = ([x, y]: Vec2): string => `${place(x)} ${place(y)}`;

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

function targetMark({ at }: ShownTarget, grid: Grid): string {
  const [x, y] = grid.page(at);
  return `<path fill="none" stroke="${INK.target}" stroke-width="1.6" d="M${place(x - 5)} ${place(y)}h10M${place(x)} ${place(y - 5)}v10"/>`;
}

interface KeyGroup {
  readonly at: Vec2;
  readonly numbers: number[];
  readonly looks: Set<string>;
  /** Ends of the lines that say where the camera looks, from the mark [px]. */
  readonly ends: Vec2[];
}

/** Keys at one place of the page share a mark. */
function groupKeys({ right, up }: Panel, keys: readonly Sample[], grid: Grid): readonly KeyGroup[] {
  const groups: KeyGroup[] = [];
  keys.forEach((key, i) => {
    if (!isPlaced(key)) return;
    const at = grid.page(key.at);
    const end: Vec2 = [key.view[right] * VIEW, -key.view[up] * VIEW];
    const look = `l${pair(end)}`;
    const group = groups.find((one) => Math.hypot(one.at[0] - at[0], one.at[1] - at[1]) < NEAR);
    if (!group) groups.push({ at, numbers: [i + 1], looks: new Set([look]), ends: [end] });
    else {
      group.numbers.push(i + 1);
      group.looks.add(look);
      group.ends.push(end);
    }
  });
  return groups;
}

function keyMark({ at, looks }: KeyGroup): string {
  const views = [...looks].map((look) => `M${pair(at)}${look}`).join("");
  return `<path fill="none" stroke="${INK.text}" stroke-width="1.2" d="${views}"/>
<circle cx="${place(at[0])}" cy="${place(at[1])}" r="4" fill="${INK.text}" stroke="${INK.paper}"/>`;
}

/** Numbers of keys and names of targets where there is room; nothing here measures a letter. */
function names(groups: readonly KeyGroup[], targets: readonly ShownTarget[], { area }: Panel, grid: Grid): string[] {
  const wanted = [
    ...groups.map(({ at, numbers }) => ({ text: numbersText(numbers), at, reach: 6, style: KEY_NAME })),
    ...targets.map(({ name, at }) => ({ text: cut(name), at: grid.page(at), reach: 6, style: TARGET_NAME })),
  ];
  const marks = wanted.map(({ at }) => around(at, 5));
  for (const { at, ends } of groups) {
    for (const [dx, dy] of ends.slice(0, MOST_LOOKS)) {
      marks.push(...[0.6, 0.9].map((share) => around([at[0] + share * dx, at[1] + share * dy], 3)));
    }
  }
  return placeLabels(wanted, area, marks).map(({ text, x, y, style, leader }) => {
    const name = `<text x="${place(x)}" y="${place(y)}" ${style}>${xmlText(text)}</text>`;
    if (!leader) return name;
    return `<path fill="none" stroke="${INK.frame}" stroke-width="0.8" d="M${pair(leader[0])}L${pair(leader[1])}"/>${name}`;
  });
}

/** Most lines of one mark that names keep clear of. */
const MOST_LOOKS = 20;

const around = ([x, y]: Vec2, reach: number): Rectangle => ({
  left: x - reach,
  right: x + reach,
  top: y - reach,
  bottom: y + reach,
});

const KEY_NAME = `font-weight="600" fill="${INK.text}"`;
const TARGET_NAME = `font-size="11" font-style="italic" fill="${INK.target}"`;

/** Letters of a name that there is room for. */
const LETTERS = 24;

function cut(name: string): string {
  const letters = [...name];
  return letters.length > LETTERS ? `${letters.slice(0, LETTERS - 1).join("")}…` : name;
}

/** `1`, `1–3`, `1, 4`. */
function numbersText(numbers: readonly number[]): string {
  const isRow = numbers.length > 2 && numbers.every((one, i) => i === 0 || one === numbers[i - 1] + 1);
  return isRow ? `${numbers[0]}–${numbers[numbers.length - 1]}` : numbers.join(", ");
}
